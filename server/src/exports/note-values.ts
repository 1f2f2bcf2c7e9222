/** Note values: how a stretch of time is written as notes, dots, ties and tuplets. */
import { Fraction } from '../model/fraction';
import { earlier } from '../model/time';
import type { Meter, PlacedGroup } from '../model/types';

/** Value names of MusicXML 4.0 (`note-type-value`) by their length in quarters. */
const TYPES: readonly (readonly [string, Fraction])[] = [
  ['whole', new Fraction(4)],
  ['half', new Fraction(2)],
  ['quarter', new Fraction(1)],
  ['eighth', new Fraction(1, 2)],
  ['16th', new Fraction(1, 4)],
  ['32nd', new Fraction(1, 8)],
  ['64th', new Fraction(1, 16)],
  ['128th', new Fraction(1, 32)],
  ['256th', new Fraction(1, 64)],
  ['512th', new Fraction(1, 128)],
];

export interface NoteValue {
  readonly type: string;
  readonly dots: 0 | 1;
  /** As written, in quarters, before any tuplet shrinks it. */
  readonly length: Fraction;
}

/** Several notes in the time of others: `actual` in the time of `normal`. */
export interface Tuplet {
  readonly actual: number;
  readonly normal: number;
}

/** The values that together last so long, longest first; null where no finest value fits. */
export function valuesOf(length: Fraction): NoteValue[] | null {
  const values: NoteValue[] = [];
  let left = length;
  while (left.compare(0) > 0) {
    const value = longest(left);
    if (value === null) return null;
    values.push(value);
    left = left.sub(value.length);
  }
  return values;
}

function longest(most: Fraction): NoteValue | null {
  for (const [type, plain] of TYPES) {
    const dotted = plain.mul(3).div(2);
    if (dotted.compare(most) <= 0) return { type, dots: 1, length: dotted };
    if (plain.compare(most) <= 0) return { type, dots: 0, length: plain };
  }
  return null;
}

/** Whether a length is made of halves of halves: what needs no tuplet. */
export function isPlain(length: Fraction): boolean {
  return isPowerOfTwo(length.d);
}

function isPowerOfTwo(value: bigint): boolean {
  return value > 0n && (value & (value - 1n)) === 0n;
}

/** The tuplet in which a group's slots stand; null where they are plain. */
export function tupletOf({ duration, slots }: Pick<PlacedGroup, 'duration' | 'slots'>): Tuplet | null {
  const count = slots.length;
  if (isPlain(duration.div(count))) return null;
  const fewer = Array.from({ length: count - 1 }, (_, i) => count - 1 - i);
  const plain = fewer.filter((normal) => isPlain(duration.div(normal)));
  // One undotted value a slot is the usual way; where no such fits (three notes in five beats), tied values do.
  const normal = plain.find((one) => isPowerOfTwo(duration.div(one).n)) ?? plain[0];
  return normal === undefined ? null : { actual: count, normal };
}

/** Where a plain note is parted by ties, as engravers do: it may not hide the middle of a bar of four beats, nor a beat it starts before. */
export function parted(from: Fraction, to: Fraction, barOnset: Fraction, meter: Meter): Fraction[] {
  const cuts = [from];
  let at = from;
  while (at.compare(to) < 0) {
    const end = reach(at, to, barOnset, meter);
    cuts.push(end);
    at = end;
  }
  return cuts;
}

function reach(at: Fraction, to: Fraction, barOnset: Fraction, { beat, beatCount, length }: Meter): Fraction {
  const since = at.sub(barOnset);
  const beats = since.div(beat);
  if (beats.d !== 1n) return earlier(to, barOnset.add(beat.mul(beats.ceil())));
  const middle = barOnset.add(length.div(2));
  if (beatCount === 4 && since.compare(0) > 0 && at.compare(middle) < 0) return earlier(to, middle);
  return to;
}
