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
  const isSame = (one: number, other: number): boolean => {
    const [was, is] = [bars.get(one), bars.get(other)];
    return was !== undefined && is !== undefined && keyOf(was) === keyOf(is);
  };
  const earlier = new Map<string, number[]>();
  const found: Return[] = [];
  let end = 0;
  for (const [number, written] of bars) {
    const key = keyOf(written);
    const same = earlier.get(key) ?? [];
    // A bar that is struck again and again is told as that.
    if (number >= end && written.notes.length > 0 && !isSame(number - 1, number)) {
      const candidates = [...new Set([...same.slice(0, 1), ...same.slice(-MOST_COMPARED)])];
      const longest = candidates
        .map((of): Return => ({ bar: number, of, bars: lengthOf(of, number, isSame, bars) }))
        .reduce((one: Return | null, other) => (one === null || other.bars > one.bars ? other : one), null);
      if (longest !== null && isHeard(longest, bars)) {
        found.push(longest);
        end = number + longest.bars;
      }
    }
    earlier.set(key, [...same.slice(0, 1), ...same.slice(1).slice(-MOST_COMPARED + 1), number]);
  }
  return found;
});

/** The first bar that a bar is the same as, over the same chords; null where there is none, or the bar before is the same. */
export function firstSame(reading: Reading, bar: number): number | null {
  const bars = writtenBars(reading);
  const own = bars.get(bar);
  if (own === undefined) return null;
  const first = firstBars(reading).get(keyOf(own))!;
  const before = bars.get(bar - 1);
  return first >= bar - 1 || (before !== undefined && keyOf(before) === keyOf(own)) ? null : first;
}

function keyOf({ line, chords }: WrittenBar): string {
  return `${line}|${chords}`;
}

const firstBars = ofReading((reading): ReadonlyMap<string, number> => {
  const first = new Map<string, number>();
  for (const [number, written] of writtenBars(reading)) if (!first.has(keyOf(written))) first.set(keyOf(written), number);
  return first;
});

/** How many bars from one on are those from another on, none of which is its own model; a bar without notes ends nothing. */
function lengthOf(of: number, bar: number, isSame: (one: number, other: number) => boolean, bars: ReadonlyMap<number, WrittenBar>): number {
  let count = 0;
  while (of + count < bar && isSame(of + count, bar + count)) count += 1;
  while (count > 0 && bars.get(bar + count - 1)!.notes.length === 0) count -= 1;
  return count;
}

/** Whether two bars or more have notes, and together enough of them; bars that are all one bar are told as that. */
function isHeard({ bar, bars: count }: Return, bars: ReadonlyMap<number, WrittenBar>): boolean {
  const all = Array.from({ length: count }, (_, i) => bars.get(bar + i)!).filter(({ notes }) => notes.length > 0);
  return new Set(all.map(({ line }) => line)).size > 1 && all.reduce((sum, { notes }) => sum + notes.length, 0) >= FEWEST_NOTES;
}
