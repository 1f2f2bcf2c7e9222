/** Bars that come again as they were, over the same chords, however far apart: a riff, the A of a tune, a second chorus. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { writtenBars, type WrittenBar } from './bars';

export interface Return {
  /** The number of its first bar, and of the first bar that comes again. */
  readonly bar: number;
  readonly of: number;
  /** How many bars come again one after another. */
  readonly bars: number;
}

/** Notes of several bars for the ear to know them. */
const FEWEST_NOTES = 4;
/** So many earlier bars are compared, beside the first that is the same: what comes again all the time is no more the same for being compared with all. */
const MOST_COMPARED = 4;

/** The returns of two bars or more, in order and apart from each other; each as long as it can be, of the first bars that are so. */
export const returnsOf = ofReading((reading): readonly Return[] => {
  const bars = writtenBars(reading);
  const earlier = new Map<string, readonly number[]>();
  const found: Return[] = [];
  let end = 0;
  for (const [number, { whole, notes }] of bars) {
    const same = earlier.get(whole) ?? [];
    // A bar that is struck again and again is told as that.
    if (number >= end && notes.length > 0 && !isSame(bars, number - 1, number)) {
      const longest = same
        .map((of): Return => ({ bar: number, of, bars: lengthOf(of, number, bars) }))
        .reduce((one: Return | null, other) => (one === null || other.bars > one.bars ? other : one), null);
      if (longest !== null && isHeard(longest, bars)) {
        found.push(longest);
        end = number + longest.bars;
      }
    }
    const [first = number, ...others] = same;
    earlier.set(whole, same.length === 0 ? [first] : [first, ...others.slice(1 - MOST_COMPARED), number]);
  }
  return found;
});

/** The first bar that a bar is the same as, over the same chords; null where there is none, or the bar before is the same. */
export function firstSame(reading: Reading, bar: number): number | null {
  const bars = writtenBars(reading);
  const own = bars.get(bar);
  if (own === undefined) return null;
  const first = firstBars(reading).get(own.whole)!;
  return first >= bar - 1 || isSame(bars, bar - 1, bar) ? null : first;
}

const firstBars = ofReading((reading): ReadonlyMap<string, number> => {
  const first = new Map<string, number>();
  for (const [number, { whole }] of writtenBars(reading)) if (!first.has(whole)) first.set(whole, number);
  return first;
});

function isSame(bars: ReadonlyMap<number, WrittenBar>, one: number, other: number): boolean {
  const [was, is] = [bars.get(one), bars.get(other)];
  return was !== undefined && is !== undefined && was.whole === is.whole;
}

/** How many bars from one on are those from another on, none of which is its own model; a bar without notes ends nothing. */
function lengthOf(of: number, bar: number, bars: ReadonlyMap<number, WrittenBar>): number {
  let count = 0;
  while (of + count < bar && isSame(bars, of + count, bar + count)) count += 1;
  while (count > 0 && bars.get(bar + count - 1)!.notes.length === 0) count -= 1;
  return count;
}

/** Whether two bars or more have notes, and together enough of them; bars that are all one bar are told as that. */
function isHeard({ bar, bars: count }: Return, bars: ReadonlyMap<number, WrittenBar>): boolean {
  const all = Array.from({ length: count }, (_, i) => bars.get(bar + i)!).filter(({ notes }) => notes.length > 0);
  return new Set(all.map(({ line }) => line)).size > 1 && all.reduce((sum, { notes }) => sum + notes.length, 0) >= FEWEST_NOTES;
}
