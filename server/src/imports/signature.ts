/** Keys, meters and transpositions of an `attributes` element. */
import { meterOf } from '../model/time';
import type { Meter } from '../model/types';
import { transposeName, type Shift } from '../theory/interval';
import { fifthsOf } from '../theory/key';
import type { Key, NoteName } from '../theory/types';
import type { Report } from './report';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';

/** A key signature as written; `mode` is null where the file says none. */
export interface Signature {
  readonly fifths: number;
  readonly mode: Key['mode'] | null;
}

/** Letters that go with half steps: a whole step down is a letter down. */
const LETTERS = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];

function usualLetters(chromatic: number): number {
  const size = Math.abs(chromatic);
  return Math.sign(chromatic) * (LETTERS[size % 12]! + 7 * Math.floor(size / 12));
}

/** Half steps: five octaves, more than any part is written away from its sound. */
const FARTHEST = 60;

/** What is added to a written note to get the sounding one, octaves in it; null where it is farther than that of any part. */
export function transpositionOf(transpose: XmlNode): Shift | null {
  const chromatic = Math.trunc(numberAt(transpose, 'chromatic') ?? 0);
  const octaves = Math.trunc(numberAt(transpose, 'octave-change') ?? 0);
  if (Math.abs(chromatic) + 12 * Math.abs(octaves) > FARTHEST) return null;
  const usual = usualLetters(chromatic);
  const diatonic = Math.trunc(numberAt(transpose, 'diatonic') ?? usual);
  // Some files leave the octave out of the letters: no interval is two letters away from what it usually is.
  return { diatonic: (Math.abs(diatonic - usual) > 1 ? usual : diatonic) + 7 * octaves, chromatic: chromatic + 12 * octaves };
}

/** Null where the signature is no key of the language; that is reported. */
export function signatureOf(key: XmlNode, report: Report, measure: string): Signature | null {
  const fifths = numberAt(key, 'fifths');
  const mode = textAt(key, 'mode')?.toLowerCase() ?? null;
  if (fifths === null || !Number.isInteger(fifths) || Math.abs(fifths) > 7) {
    report.leftOut('a key signature that is no major or minor key', measure);
    return null;
  }
  if (mode === null || mode === 'none') return { fifths, mode: null };
  if (mode === 'major' || mode === 'ionian') return { fifths, mode: 'major' };
  if (mode === 'minor' || mode === 'aeolian') return { fifths, mode: 'minor' };
  report.leftOut(`the mode “${mode}”: keys here are major or minor`, measure);
  return null;
}

const CIRCLE = 'FCGDAEB';

/** The tonic so many fifths from C. */
function onCircle(fifths: number): NoteName {
  const place = fifths + 1;
  return { letter: CIRCLE[((place % 7) + 7) % 7] as NoteName['letter'], alter: Math.floor(place / 7) };
}

export function keyOf({ fifths, mode }: { readonly fifths: number; readonly mode: Key['mode'] }): Key {
  return { tonic: onCircle(fifths + (mode === 'minor' ? 3 : 0)), mode };
}

const MOST_ACCIDENTALS = 7;

/**
 * How a passage is moved to concert pitch: as the file says, but by the next letter where the key it leads to has more than seven accidentals.
 * A shift by other letters than the usual ones was meant for its spelling, and stays; so does one that changes no sound.
 */
export function concertShift(shift: Shift, signature: Signature | null): Shift {
  const isUsual = shift.diatonic === usualLetters(shift.chromatic);
  if (signature === null || (signature.mode === null && signature.fifths === 0) || shift.chromatic % 12 === 0 || !isUsual) return shift;
  const accidentals = (one: Shift): number => Math.abs(signature.fifths + 7 * one.chromatic - 12 * one.diatonic);
  if (accidentals(shift) <= MOST_ACCIDENTALS) return shift;
  return [1, -1]
    .map((letters): Shift => ({ ...shift, diatonic: shift.diatonic + letters }))
    .reduce((best, one) => (accidentals(one) < accidentals(best) ? one : best), shift);
}

/** Null where it cannot be written: its tonic would have two accidentals. */
export function concertKey(key: Key, shift: Shift): Key | null {
  const moved: Key = { ...key, tonic: transposeName(key.tonic, shift) };
  return Math.abs(moved.tonic.alter) > 1 || Math.abs(fifthsOf(moved)) > MOST_ACCIDENTALS + 7 ? null : moved;
}

const MOST_BEATS = 32;

/** Null where the meter is none of the language's; that is reported. */
export function meterIn(time: XmlNode, report: Report, measure: string): Meter | null {
  const beats = childrenOf(time, 'beats').map(({ text }) => text.split('+').map(Number));
  const units = childrenOf(time, 'beat-type').map(({ text }) => Number(text));
  if (childOf(time, 'senza-misura') !== undefined) {
    report.leftOut('music without a meter: its measures are written in meters of their own lengths', measure);
    return null;
  }
  // An additive meter such as 3+2/8, or 2/4 + 3/8: one bar of the sum.
  const unit = Math.max(...units, 1);
  const sum = beats.reduce((all, group, i) => all + (group.reduce((a, b) => a + b, 0) * unit) / (units[i] ?? unit), 0);
  if (beats.length > 0 && Number.isInteger(sum) && sum >= 1 && sum <= MOST_BEATS && [1, 2, 4, 8, 16].includes(unit)) {
    if (beats.length > 1 || beats[0]!.length > 1)
      report.decided(
        `the meter ${beats.map((group, i) => `${group.join('+')}/${units[i] ?? unit}`).join(' + ')} is written ${sum}/${unit}`,
        measure,
      );
    return meterOf(sum, unit);
  }
  report.leftOut(
    `the meter ${beats.map((group) => group.join('+')).join(' + ')}/${units.join(', ')}: meters here are up to ${MOST_BEATS} halves, quarters, eighths or sixteenths`,
    measure,
  );
  return null;
}
