import type { Range } from '../../../../grammar/tree';

/** Whether a place lies in a range, its ends included. */
export function contains({ start, end }: Range, at: number): boolean {
  return at >= start && at <= end;
}
