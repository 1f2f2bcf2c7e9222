/** Which places in time are strong, and where the chords change. */
import type { Fraction } from '../model/fraction';
import { barLineOf, earlier, lastNotAfter, soundingAt } from '../model/time';
import type { Bar, Phrase } from '../model/types';
import type { HarmonicContext } from './harmonies';

export function barsByNumber(phrase: Phrase): ReadonlyMap<number, Bar> {
  return new Map(phrase.bars.map((bar) => [bar.number, bar]));
}

export interface Places {
  /** The bar a time falls in (the last one for anything later). */
  barAt(time: Fraction): Bar;
  /** 3 on beat 1, 2 in the middle of a bar of four beats or where a chord with another symbol comes in, 1 on another beat, 0 on a half beat, -1 within. */
  strengthAt(time: Fraction): 3 | 2 | 1 | 0 | -1;
  /** A strength of 2 or more. */
  isStrong(time: Fraction): boolean;
  /** On a beat of its bar. */
  isOnBeat(time: Fraction): boolean;
  /** The next strong place after a time; null after the last bar. */
  nextStrong(time: Fraction): Fraction | null;
  /** The next change to another symbol after a time, with the harmony that comes in. */
  nextChange(time: Fraction): { readonly at: Fraction; readonly harmony: number } | null;
  /** The harmony that sounds at a time (in a pickup the first); null where there is none, as over a line above its chords. */
  harmonyAt(time: Fraction): number | null;
}

const known = new WeakMap<HarmonicContext, Places>();

/** The places of a phrase; worked out once for each harmonic context, which is that of one phrase. */
export function placesOf(phrase: Phrase, context: HarmonicContext): Places {
  const places = known.get(context) ?? placesAfresh(phrase, context);
  known.set(context, places);
  return places;
}

function placesAfresh(phrase: Phrase, context: HarmonicContext): Places {
  const { bars } = phrase;
  const { harmonies } = context;
  const isChange = (time: Fraction): boolean => {
    const index = lastNotAfter(harmonies, time);
    return index > 0 && harmonies[index]!.onset.equals(time);
  };
  // A pickup counts to the first harmony, whose successor is its next change.
  const nextAfter = (time: Fraction): number => (soundingAt(harmonies, time) ?? -1) + 1;
  const barAt = (time: Fraction): Bar => bars[lastNotAfter(bars, time)]!;
  const beatsIn = (time: Fraction): { bar: Bar; beats: Fraction } => {
    const bar = barAt(time);
    return { bar, beats: time.sub(barLineOf(bar)).div(bar.meter.beat) };
  };
  const strengthAt = (time: Fraction): 3 | 2 | 1 | 0 | -1 => {
    const { bar, beats } = beatsIn(time);
    if (beats.equals(0)) return 3;
    if ((bar.meter.beatCount === 4 && beats.equals(2)) || isChange(time)) return 2;
    return beats.isWhole ? 1 : beats.mul(2).isWhole ? 0 : -1;
  };
  return {
    barAt,
    strengthAt,
    isStrong: (time) => strengthAt(time) >= 2,
    isOnBeat(time) {
      return beatsIn(time).beats.isWhole;
    },
    nextStrong(time) {
      const bar = barAt(time);
      const end = bar.onset.add(bar.length);
      const middle = bar.meter.beatCount === 4 ? end.sub(bar.meter.length.div(2)) : end;
      const metric = time.compare(middle) < 0 ? middle : end;
      const change = harmonies[nextAfter(time)]?.onset;
      return change === undefined || change.compare(time) <= 0 ? metric : earlier(metric, change);
    },
    nextChange(time) {
      const next = nextAfter(time);
      const harmony = harmonies[next];
      return harmony === undefined ? null : { at: harmony.onset, harmony: next };
    },
    harmonyAt(time) {
      return soundingAt(harmonies, time);
    },
  };
}
