/** Exact time: fractions of a quarter note, and the beats of a meter. No floating point decides anything here. */
import { Fraction } from './fraction';
import { beatCount, isCompound } from '../../../grammar/systems';
import type { Bar, Meter } from './types';

export const ZERO = new Fraction(0);
export const ONE = new Fraction(1);
export const HALF = new Fraction(1, 2);

/** The meter n/d. */
export function meterOf(beats: number, unit: number): Meter {
  const compound = isCompound({ beats, unit });
  const unitLength = new Fraction(4, unit);
  return {
    beats,
    unit,
    compound,
    beatCount: beatCount({ beats, unit }),
    beat: compound ? unitLength.mul(3) : unitLength,
    length: unitLength.mul(beats),
  };
}

/** A meter as it is written: `3/4`. */
export function meterText({ beats, unit }: Pick<Meter, 'beats' | 'unit'>): string {
  return `${beats}/${unit}`;
}

/** An exact number of quarters (or beats) as text: `3`, `3/2`, `-1/3`. */
export function formatFraction(value: Fraction): string {
  return value.toFraction(false);
}

/** A place in a bar as a writer says it: beats from 1, with what is over as a fraction: `3`, `3+1/2`. */
export function formatBeat(sinceBarLine: Fraction, meter: Meter): string {
  const beats = sinceBarLine.div(meter.beat);
  if (beats.isWhole) return beats.add(1).toFraction();
  const whole = beats.floor();
  const rest = beats.sub(whole);
  return `${whole.add(1).toFraction()}+${rest.toFraction()}`;
}

export function earlier(a: Fraction, b: Fraction): Fraction {
  return a.compare(b) <= 0 ? a : b;
}

export function later(a: Fraction, b: Fraction): Fraction {
  return a.compare(b) >= 0 ? a : b;
}

/** The index of the last entry that starts at a time or before; 0 where all start later. The entries are in order. */
export function lastNotAfter(entries: readonly { readonly onset: Fraction }[], time: Fraction): number {
  let low = 0;
  let high = entries.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (entries[middle]!.onset.compare(time) <= 0) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The index of the chord that sounds at a time: in a pickup the first; null before the first where it comes in after bar 1 begins. */
export function soundingAt(spans: readonly { readonly onset: Fraction }[], time: Fraction): number | null {
  const first = spans[0];
  if (first === undefined || (first.onset.compare(ZERO) > 0 && time.compare(first.onset) < 0)) return null;
  return lastNotAfter(spans, time);
}

/** The chord that sounds at a time, as `soundingAt` has it. */
export function spanAt<T extends { readonly onset: Fraction }>(spans: readonly T[], time: Fraction): T | null {
  const sounding = soundingAt(spans, time);
  return sounding === null ? null : spans[sounding]!;
}

/** Those of some entries that start at a time or later, and before another. The entries are in order. */
export function startingIn<T extends { readonly onset: Fraction }>(entries: readonly T[], from: Fraction, to: Fraction): T[] {
  const found: T[] = [];
  for (let i = lastNotAfter(entries, from); i < entries.length && entries[i]!.onset.compare(to) < 0; i += 1) {
    if (entries[i]!.onset.compare(from) >= 0) found.push(entries[i]!);
  }
  return found;
}

/** Where a bar's first beat would be: a pickup counts as the end of a whole bar. */
export function barLineOf({ number, onset, length, meter }: Pick<Bar, 'number' | 'onset' | 'length' | 'meter'>): Fraction {
  return number === 0 ? onset.add(length).sub(meter.length) : onset;
}

/** The least common multiple of two whole numbers above 0. */
export function leastMultiple(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y !== 0) [x, y] = [y, x % y];
  return (a / x) * b;
}
