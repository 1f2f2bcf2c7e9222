/** Formatting a document, or the lines of a selection. The layout itself is the printer's. */
import { lineEnd, lineStart } from '../../../grammar/lines';
import { formatEdits } from '../../../grammar/printer';
import type { Snapshot } from '../model/snapshot';
import type { PlacedEdit } from '../rules/findings';

/** The edits that format a document, a line each. A document that was refused (too long) is left as it is. */
export function formatDocument({ text, slices }: Snapshot): readonly PlacedEdit[] {
  if (slices.length === 0) return [];
  return formatEdits(text, slices).map(({ range, text: fresh }) => ({ start: range.start, end: range.end, text: fresh }));
}

/**
 * The edits of the lines that a selection touches. Columns are those of the whole system, so that a line formatted alone
 * stands where formatting the document would put it.
 */
export function formatRange(snapshot: Snapshot, start: number, end: number): readonly PlacedEdit[] {
  const { text } = snapshot;
  const from = lineStart(text, start);
  // A selection that ends before a line's first sign does not touch that line.
  const last = end > start && lineStart(text, end) === end ? end - 1 : end;
  const to = lineEnd(text, last);
  return formatDocument(snapshot).filter((edit) => edit.start <= to && edit.end >= from);
}
