/** Actions on a whole phrase: offered at its first line, and written in the formatter's layout. */
import { applyEdits, formatText } from '../../../../grammar/printer';
import { contains } from './selection';
import type { TextEdit } from '../../../../grammar/tree';
import type { AssistContext, Offer } from '../assist';

/** Whether the cursor is on the phrase's keyword or name, or the action was asked for by name. */
export function isAtTitle({ placed: { phrase }, selection, asked }: AssistContext): boolean {
  const { keyword, title } = phrase.item;
  return asked || contains({ start: keyword.range.start, end: title?.range.end ?? keyword.range.end }, selection.start);
}

/** An offer that makes some edits, as one edit; the phrase is laid out again if it was laid out before. */
export function laidOut({ placed: { phrase } }: AssistContext, edits: readonly TextEdit[], title: string): Offer[] {
  const { text } = phrase;
  const fresh = laidOutAs(
    text,
    applyEdits(
      text,
      [...edits].sort((a, b) => a.range.start - b.range.start),
    ),
  );
  // The phrase's slice may end in blank lines, which stay as they are.
  const kept = text.length - text.trimEnd().length;
  const range = { start: 0, end: text.length - kept };
  return fresh === text ? [] : [{ title, edits: [{ range, text: fresh.trimEnd() }], repairs: null, preferred: false }];
}

/** Rows of words for a phrase, each on a line of its own after a line break, as the formatter writes them; the rows round them stay as they are. */
export function rowsLaidOut(rows: string): string {
  const head = 'phrase ""';
  return formatText(head + rows)
    .trimEnd()
    .slice(head.length);
}

/** A phrase's new text in the formatter's layout, if the old one was in it; else as it is, so that what is not touched stays as it was written. */
export function laidOutAs(before: string, after: string): string {
  if (known.text !== before) known = { text: before, isLaidOut: formatText(before).trimEnd() === before.trimEnd() };
  return known.isLaidOut ? formatText(after) : after;
}

/** One phrase is asked of by many actions in a row. */
let known = { text: '', isLaidOut: true };
