/** The end of a line at which somebody writes: what stands there may not be whole yet. */
import type { LineBar, PhraseItem } from '../../../grammar/tree';
import type { Writing } from './types';

export interface LineEnd {
  readonly writing: Writing;
  readonly last: LineBar | null;
  /** The last bar, where no bar line closes it. */
  readonly growing: LineBar | null;
}

/** The ends of lines at some offsets, each once. */
export function lineEndsAt(item: PhraseItem, offsets: readonly number[]): LineEnd[] {
  const ends = offsets.map((offset) => lineEndAt(item, offset)).filter((end) => end !== null);
  return ends.filter(({ writing: { range } }, i) => ends.findIndex((one) => one.writing.range.start === range.start) === i);
}

/** Null where an offset of the slice is in no line row, or before its last bar. */
function lineEndAt({ rows }: PhraseItem, offset: number): LineEnd | null {
  const index = rows.findLastIndex(({ keyword }) => keyword.range.end < offset);
  const row = rows[index];
  if (row?.kind !== 'line') return null;
  const last = row.bars.at(-1);
  const growing = last === undefined || last.close !== null ? null : last;
  const start = growing?.range.start ?? last?.close?.end ?? row.keyword.range.end;
  if (offset < (growing?.open?.end ?? start)) return null;
  const over = rows.slice(0, index).findLast(({ kind }) => kind === 'over');
  return { last: last ?? null, growing, writing: { range: { start, end: Math.max(offset, row.range.end) }, over: over?.range ?? null } };
}
