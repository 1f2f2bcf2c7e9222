/**
 * From exact time to seconds: the length of a quarter in each bar, and the place of the offbeat in the quarters that swing. The map
 * is continuous, so that rounding can move a sound but never change which one is meant; what swings is decided in exact time.
 */
import type { Fraction } from '../model/fraction';
import { HALF, lastNotAfter, ONE, ZERO } from '../model/time';
import type { Bar, Phrase } from '../model/types';

/**
 * The ratio of the long to the short eighth at a tempo: the short one stays near 100 ms (Friberg and Sundström 2002, from memory).
 * Held between 1 and 2: 2:1 from 300 ms a quarter (200 beats a minute) on, straight at 200 ms (300 beats a minute) and below.
 */
export function ratioAt(quarterMilliseconds: number): number {
  return held(quarterMilliseconds / 100 - 1, 1, 2);
}

/** Seconds from the start of the phrase's first quarter to a time in quarters. */
export type Clock = (time: Fraction) => number;

/** A quarter of a bar, or what is left of a bar after its last whole quarter. */
export interface Quarter {
  readonly onset: Fraction;
  readonly meter: Bar['meter'];
  /** In quarters; above 0, at most 1. */
  readonly length: number;
  /** It holds a pair of written eighths and nothing finer, in a simple meter. */
  readonly swings: boolean;
}

/** The quarters of a phrase in order, without gaps. The first of a pickup may begin before the pickup does. */
export function quartersOf(phrase: Phrase): Quarter[] {
  const quarters = phrase.bars.flatMap(quartersOfBar);
  const divided = quarters.map(() => ({ half: false, other: false }));
  for (const { onset } of phrase.groups.flatMap(({ slots }) => slots)) {
    const index = quarterAt(quarters, onset);
    const into = index === null ? ZERO : onset.sub(quarters[index]!.onset);
    if (index === null || into.equals(0)) continue;
    if (into.equals(HALF)) divided[index]!.half = true;
    else divided[index]!.other = true;
  }
  return quarters.map((quarter, i) => ({
    ...quarter,
    swings: !quarter.meter.compound && quarter.length === 1 && divided[i]!.half && !divided[i]!.other,
  }));
}

/** Does a time fall on the start of a quarter, in a meter whose beats can be divided in two? */
export function onQuarter(quarters: readonly Quarter[], time: Fraction): boolean {
  const index = quarterAt(quarters, time);
  return index !== null && !quarters[index]!.meter.compound && quarters[index]!.onset.equals(time);
}

/** Seconds a quarter lasts: a tempo counts the meter's felt beats. */
export function quarterSeconds(meter: Bar['meter'], tempo: number): number {
  return 60 / (tempo * Number(meter.beat.valueOf()));
}

/** The clock of a phrase at a tempo (beats a minute) and a ratio (long to short; above 0). */
export function clockOf(quarters: readonly Quarter[], tempo: number, ratio: number): Clock {
  const starts: number[] = [];
  let seconds = 0;
  for (const { length, meter } of quarters) {
    starts.push(seconds);
    seconds += length * quarterSeconds(meter, tempo);
  }
  const offbeat = ratio / (1 + ratio);
  return (time) => {
    const index = quarterAt(quarters, time) ?? 0;
    const quarter = quarters[index];
    if (quarter === undefined) return 0;
    const into = Number(time.sub(quarter.onset).valueOf());
    const swung = !quarter.swings ? into : into <= 0.5 ? 2 * into * offbeat : offbeat + (2 * into - 1) * (1 - offbeat);
    return starts[index]! + swung * quarterSeconds(quarter.meter, tempo);
  };
}

export function held(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/** Quarters are counted from the bar line: a pickup's back from the one that ends it. */
function quartersOfBar(bar: Bar): Quarter[] {
  const end = bar.onset.add(bar.length);
  const quarters: Quarter[] = [];
  let from = bar.number === 0 ? end.sub(bar.length.ceil()) : bar.onset;
  while (from.compare(end) < 0) {
    const rest = end.sub(from);
    const length = rest.compare(ONE) < 0 ? rest : ONE;
    quarters.push({ onset: from, meter: bar.meter, length: Number(length.valueOf()), swings: false });
    from = from.add(length);
  }
  return quarters;
}

/** The index of the quarter a time falls in (the last one for anything later); null before the first. */
function quarterAt(quarters: readonly Quarter[], time: Fraction): number | null {
  const index = lastNotAfter(quarters, time);
  const found = quarters[index];
  return found !== undefined && found.onset.compare(time) <= 0 ? index : null;
}
