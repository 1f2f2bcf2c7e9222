/** Which places in time are strong, and where the chords change. */
import type { Fraction } from '../model/fraction';
import { barLineOf, earlier, lastNotAfter, soundingAt } from '../model/time';
import type { Bar, Phrase } from '../model/types';
import type { HarmonicContext, Harmony } from './harmonies';

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
  const found = known.get(context);
  if (found !== undefined) return found;
  const places = new PlacesOfBars(phrase.bars, context.harmonies);
  known.set(context, places);
  return places;
}

class PlacesOfBars implements Places {
  constructor(
    private readonly bars: readonly Bar[],
    private readonly harmonies: readonly Harmony[],
  ) {}

  barAt(time: Fraction): Bar {
    return this.bars[lastNotAfter(this.bars, time)]!;
  }

  strengthAt(time: Fraction): 3 | 2 | 1 | 0 | -1 {
    const bar = this.barAt(time);
    const beats = beatsInto(bar, time);
    if (beats.equals(0)) return 3;
    if ((bar.meter.beatCount === 4 && beats.equals(2)) || this.isChange(time)) return 2;
    return beats.isWhole ? 1 : beats.mul(2).isWhole ? 0 : -1;
  }

  isStrong(time: Fraction): boolean {
    return this.strengthAt(time) >= 2;
  }

  isOnBeat(time: Fraction): boolean {
    return beatsInto(this.barAt(time), time).isWhole;
  }

  nextStrong(time: Fraction): Fraction | null {
    const bar = this.barAt(time);
    const end = bar.onset.add(bar.length);
    const middle = bar.meter.beatCount === 4 ? end.sub(bar.meter.length.div(2)) : end;
    const metric = time.compare(middle) < 0 ? middle : end;
    const change = this.harmonies[this.nextAfter(time)]?.onset;
    return change === undefined || change.compare(time) <= 0 ? metric : earlier(metric, change);
  }

  nextChange(time: Fraction): { readonly at: Fraction; readonly harmony: number } | null {
    const next = this.nextAfter(time);
    const harmony = this.harmonies[next];
    return harmony === undefined ? null : { at: harmony.onset, harmony: next };
  }

  harmonyAt(time: Fraction): number | null {
    return soundingAt(this.harmonies, time);
  }

  private isChange(time: Fraction): boolean {
    const index = lastNotAfter(this.harmonies, time);
    return index > 0 && this.harmonies[index]!.onset.equals(time);
  }

  /** A pickup counts to the first harmony, whose successor is its next change. */
  private nextAfter(time: Fraction): number {
    return (this.harmonyAt(time) ?? -1) + 1;
  }
}

function beatsInto(bar: Bar, time: Fraction): Fraction {
  return time.sub(barLineOf(bar)).div(bar.meter.beat);
}
