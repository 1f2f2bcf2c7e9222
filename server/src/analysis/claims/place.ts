/** Places named in claims: `2.3`, `2.3+1/2`; the pickup is bar 0. */
import { beatWords } from '../../model/beat-words';
import { Fraction } from '../../model/fraction';
import { formatPitch } from '../../theory/pitch';
import { barLineOf } from '../../model/time';
import type { Bar, Note } from '../../model/types';
import { saidFigure } from '../shown-figure';
import type { ChordPlacement, Reading } from '../types';

export interface Place {
  readonly time: Fraction;
  readonly text: string;
}

/** Reads a place; a text says why it cannot be. */
export function readPlace(text: string | undefined, { phrase }: Reading): Place | string {
  const match = /^(\d{1,4})\.(\d{1,3})(?:\+(\d{1,3})\/(\d{1,3}))?$/.exec(text ?? '');
  if (match === null || Number(match[4] ?? 1) === 0) return `“${text ?? ''}” is no place; write bar and beat, such as 2.3 or 2.3+1/2`;
  const bar = phrase.bars.find((one) => one.number === Number(match[1]));
  if (bar === undefined) return `the phrase has ${countBars(phrase.bars)}, and no bar ${match[1]}`;
  const fraction = match[3] === undefined ? new Fraction(0) : new Fraction(Number(match[3]), Number(match[4]));
  const beats = new Fraction(Number(match[2])).add(fraction).sub(1);
  const barLine = barLineOf(bar);
  const time = barLine.add(beats.mul(bar.meter.beat));
  if (Number(match[2]) < 1 || time.compare(bar.onset) < 0 || time.compare(bar.onset.add(bar.length)) >= 0)
    return `${bar.number === 0 ? 'the pickup' : `bar ${bar.number}`} has ${bar.number === 0 ? 'no' : `${bar.meter.beatCount} beats, and no`} beat ${match[2]}`;
  return { time, text: text! };
}

function countBars(bars: readonly Bar[]): string {
  const count = bars.filter((bar) => bar.number > 0).length;
  return count === 1 ? '1 bar' : `${count} bars`;
}

/** `the B4 in bar 2, beat 1 (the 7 of Cmaj7)`: a note as a claim speaks of it, over its own chord unless another is given. */
export function noteWords(index: number, reading: Reading, placement: ChordPlacement | null = reading.notes[index]!.placement): string {
  const note = reading.phrase.notes[index]!;
  return `the ${formatPitch(note.pitch)} in ${barAndBeat(note)}${placement === null ? '' : ` (${degreeWords(placement, reading)})`}`;
}

/** `the 7 of Cmaj7`. */
export function degreeWords(placement: ChordPlacement, reading: Reading): string {
  return `the ${saidFigure(reading, placement)} of ${reading.phrase.spans[placement.span]!.symbol}`;
}

/** `bar 2, the “and” of 4`; `the pickup, beat 4`. */
export function barAndBeat({ bar, beat }: Pick<Note, 'bar' | 'beat'>): string {
  return `${bar === 0 ? 'the pickup' : `bar ${bar}`}, ${beatWords(beat)}`;
}
