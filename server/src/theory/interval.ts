/** Transposition: letter and sound move together, so degrees stay what they are. */
import { Note } from 'tonal';
import { formatNoteName, formatPitch, parseNoteName, parsePitch } from './pitch';
import type { NoteName, Pitch } from './types';

/** An interval by its letters and its sound: a minor third up is { diatonic: 2, chromatic: 3 }. Down is negative. */
export interface Shift {
  readonly diatonic: number;
  readonly chromatic: number;
}

/** The `tonal` name of a shift, e.g. `3m`, `-2M`. */
function intervalName({ diatonic, chromatic }: Shift): string {
  const down = diatonic < 0 || (diatonic === 0 && chromatic < 0);
  const steps = Math.abs(diatonic);
  const size = down ? -chromatic : chromatic;
  const natural = [0, 2, 4, 5, 7, 9, 11][steps % 7]! + 12 * Math.floor(steps / 7);
  const off = size - natural;
  const perfect = [0, 3, 4].includes(steps % 7);
  const quality = perfect
    ? off === 0
      ? 'P'
      : off > 0
        ? 'A'.repeat(off)
        : 'd'.repeat(-off)
    : off === 0
      ? 'M'
      : off === -1
        ? 'm'
        : off > 0
          ? 'A'.repeat(off)
          : 'd'.repeat(-off - 1);
  return `${down ? '-' : ''}${steps + 1}${quality}`;
}

/** Intervals below the octave by their half steps, as they are called when one is free to choose; the tritone has two names (textbook names of intervals, common practice). */
const PLAIN = [
  '',
  'minor second',
  'major second',
  'minor third',
  'major third',
  'perfect fourth',
  'tritone',
  'perfect fifth',
  'minor sixth',
  'major sixth',
  'minor seventh',
  'major seventh',
];

/**
 * `a minor third higher`, `a perfect fourth lower`; of an octave and more, `an octave and a major second higher`. Where the letters make it
 * a rare one, such as a diminished third, it is the common one of as many half steps; they only choose between the names of the tritone.
 */
export function intervalWords({ diatonic, chromatic }: Shift): string {
  const halfSteps = Math.abs(chromatic);
  const octaves = Math.floor(halfSteps / 12);
  const letters = Math.abs(diatonic) - 7 * octaves;
  const rest = halfSteps % 12;
  const name = rest === 6 && letters === 3 ? 'augmented fourth' : rest === 6 && letters === 4 ? 'diminished fifth' : PLAIN[rest]!;
  const plain = rest === 0 ? [] : [`${name.startsWith('a') ? 'an' : 'a'} ${name}`];
  const whole = octaves === 0 ? [] : [octaves === 1 ? 'an octave' : `${octaves} octaves`];
  const words = [...whole, ...plain];
  return words.length === 0 ? 'at the same height' : `${words.join(' and ')} ${chromatic < 0 ? 'lower' : 'higher'}`;
}

/** Moves a spelled note by a shift. */
export function transposeName(name: NoteName, shift: Shift): NoteName {
  return parseNoteName(Note.transpose(formatNoteName(name), intervalName(shift)))!;
}

/** Moves a pitch by a shift. */
export function transposePitch(pitch: Pitch, shift: Shift): Pitch {
  return parsePitch(Note.transpose(formatPitch(pitch), intervalName(shift)))!;
}

/** The shift from one note name up to another, less than an octave. */
export function shiftBetween(from: NoteName, to: NoteName): Shift {
  const letters = 'CDEFGAB';
  const diatonic = (letters.indexOf(to.letter) - letters.indexOf(from.letter) + 7) % 7;
  const natural = [0, 2, 4, 5, 7, 9, 11];
  const at = (name: NoteName): number => natural[letters.indexOf(name.letter)]! + name.alter;
  const wrapped = letters.indexOf(to.letter) < letters.indexOf(from.letter) ? 12 : 0;
  return { diatonic, chromatic: at(to) + wrapped - at(from) };
}
