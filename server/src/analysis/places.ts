/** Which places in time are strong, and where the chords change. */
import type Fraction from 'fraction.js';
import { earlier, lastNotAfter } from '../model/time';
import type { Bar, Phrase } from '../model/types';
import type { HarmonicContext } from './harmonies';

export function barsByNumber(phrase: Phrase): ReadonlyMap<number, Bar> {
  return new Map(phrase.bars.map((bar) => [bar.number, bar]));
}

export interface Places {
  /** The bar a time falls in (the last one for anything later). */
  barAt(time: Fraction): Bar;
  /** Beat 1, the middle of a bar of four beats, or the place where a chord with another symbol comes in. */
  isStrong(time: Fraction): boolean;
  /** On a beat of its bar. */
  isOnBeat(time: Fraction): boolean;
  /** The next strong place after a time; null after the last bar. */
  nextStrong(time: Fraction): Fraction | null;
  /** The next change to another symbol after a time, with the harmony that comes in. */
  nextChange(time: Fraction): { readonly at: Fraction; readonly harmony: number } | null;
  /** The harmony that sounds at a time (in a pickup the first); null where there is none. */
  harmonyAt(time: Fraction): number | null;
}

export function placesOf(phrase: Phrase, context: HarmonicContext): Places {
  const { bars } = phrase;
  const { harmonies } = context;
  const changes = new Set(harmonies.slice(1).map((harmony) => harmony.onset.toFraction()));
  const barAt = (time: Fraction): Bar => bars[lastNotAfter(bars, time)]!;
  const beatsIn = (time: Fraction): { bar: Bar; beats: Fraction } => {
    const bar = barAt(time);
    const barLine = bar.number === 0 ? bar.onset.add(bar.length).sub(bar.meter.length) : bar.onset;
    return { bar, beats: time.sub(barLine).div(bar.meter.beat) };
  };
  return {
    barAt,
    isStrong(time) {
      const { bar, beats } = beatsIn(time);
      if (beats.equals(0) || (bar.meter.beatCount === 4 && beats.equals(2))) return true;
      return changes.has(time.toFraction());
    },
    isOnBeat(time) {
      return beatsIn(time).beats.d === 1n;
    },
    nextStrong(time) {
      const bar = barAt(time);
      const end = bar.onset.add(bar.length);
      const middle = bar.meter.beatCount === 4 ? end.sub(bar.meter.length.div(2)) : end;
      const metric = time.compare(middle) < 0 ? middle : end;
      const change = harmonies[lastNotAfter(harmonies, time) + 1]?.onset;
      return change === undefined || change.compare(time) <= 0 ? metric : earlier(metric, change);
    },
    nextChange(time) {
      const next = lastNotAfter(harmonies, time) + 1;
      // Before the first harmony (a pickup) the search answers the first, whose successor is the next change as well.
      const harmony = harmonies[next];
      return harmony === undefined ? null : { at: harmony.onset, harmony: next };
    },
    harmonyAt(time) {
      return harmonies.length === 0 ? null : lastNotAfter(harmonies, time);
    },
  };
}
