/** Where the text's cursor is in the score. */
import type * as vscode from 'vscode';
import type { ToView } from './messages';
import { noteAt, phraseAt, stretchIn, type OffsetRange } from './offsets';
import { isCurrent, type Reads } from './state';
import { editorOf } from './text-column';

/** The index of the phrase that the cursor is in; null where it is in none of those that are shown. */
export function phraseAtCursor({ shown, followed }: Reads<'shown' | 'followed'>): number | null {
  if (shown === undefined || followed?.document !== shown.document) return null;
  const { document, score } = shown;
  return phraseAt(score.phrases, document.offsetAt(followed.position), document.getText().length);
}

/** What the page is told of the cursor; null where the score is not of the text as it is. */
export function cursorMessage(state: Reads<'shown' | 'followed' | 'column'>): Extract<ToView, { type: 'cursor' }> | null {
  const { shown, followed, column } = state;
  if (shown === undefined || followed === undefined || !isCurrent(shown)) return null;
  const { document, score } = shown;
  const index = phraseAtCursor(state);
  // Between phrases the next one is looked at, and no note of it.
  if (index === null) return score.here === null ? null : { type: 'cursor', phrase: score.here, note: null, selection: null };
  const phrase = score.phrases[index]!;
  const editor = editorOf(document, column);
  return {
    type: 'cursor',
    phrase: index,
    note: noteAt(phrase, document.offsetAt(followed.position)),
    selection: editor === undefined ? null : stretchIn(phrase, selectedRanges(editor)),
  };
}

function selectedRanges({ document, selections }: vscode.TextEditor): OffsetRange[] {
  return selections
    .filter(({ isEmpty }) => !isEmpty)
    .map(({ start, end }) => ({ start: document.offsetAt(start), end: document.offsetAt(end) }));
}
