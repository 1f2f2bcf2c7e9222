/** Text with a cursor in it, opened: the only code of these tests that knows how a feature is asked. */
import { openSnapshot, type Snapshot } from '../../../server/src/model/snapshot';

const CURSOR = '¦';

export interface AtCursor {
  readonly snapshot: Snapshot;
  readonly at: number;
}

/** Opens a text; `¦` is the cursor, and not part of it. */
export function atCursor(marked: string): AtCursor {
  const at = marked.indexOf(CURSOR);
  if (at < 0 || marked.indexOf(CURSOR, at + 1) >= 0) throw new Error('The text needs exactly one cursor.');
  return { snapshot: openSnapshot('file:///a.phrase', 1, marked.replace(CURSOR, '')), at };
}

export function opened(text: string): Snapshot {
  return openSnapshot('file:///a.phrase', 1, text);
}

/** A text after edits whose offsets are those of the text before. */
export function edited(text: string, edits: readonly { readonly start: number; readonly end: number; readonly text: string }[]): string {
  return [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((result, edit) => result.slice(0, edit.start) + edit.text + result.slice(edit.end), text);
}
