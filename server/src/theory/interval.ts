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
    ? off === 0 ? 'P' : off > 0 ? 'A'.repeat(off) : 'd'.repeat(-off)
    : off === 0 ? 'M' : off === -1 ? 'm' : off > 0 ? 'A'.repeat(off) : 'd'.repeat(-off - 1);
  return `${down ? '-' : ''}${steps + 1}${quality}`;
}

const QUALITIES: Readonly<Record<string, string>> = { P: 'perfect', M: 'major', m: 'minor', A: 'augmented', d: 'diminished' };
const SIZES = ['unison', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh'];
const COUNTS = ['', 'a half step', 'a whole step', 'three half steps', 'four half steps', 'five half steps', 'six half steps', 'seven half steps', 'eight half steps', 'nine half steps', 'ten half steps', 'eleven half steps', 'twelve half steps'];

/**
 * `a minor third higher`, `a perfect fourth lower`; of an octave and more, `an octave and a major second higher`. Nobody speaks of an augmented
 * unison or a diminished third when he moves a line from G to G#: but for the tritones such an interval is counted in half steps.
 */
export function intervalWords(shift: Shift): string {
  const down = shift.diatonic < 0 || (shift.diatonic === 0 && shift.chromatic < 0);
  const [steps, halfSteps] = down ? [-shift.diatonic, -shift.chromatic] : [shift.diatonic, shift.chromatic];
  const octaves = Math.floor(steps / 7);
  const rest: Shift = { diatonic: steps % 7, chromatic: halfSteps - 12 * octaves };
  const plain = rest.diatonic === 0 && rest.chromatic === 0 ? [] : [withinOctave(rest)];
  const whole = octaves === 0 ? [] : [octaves === 1 ? 'an octave' : `${octaves} octaves`];
  const words = [...whole, ...plain];
  return words.length === 0 ? 'at the same height' : `${words.join(' and ')} ${down ? 'lower' : 'higher'}`;
}

function withinOctave(shift: Shift): string {
  const { diatonic, chromatic } = shift;
  const quality = QUALITIES[/[PMmAd]/.exec(intervalName(shift))![0]]!;
  const isUsual = /^(?:perfect|major|minor)$/.test(quality) || (chromatic === 6 && [3, 4].includes(diatonic));
  const counted = isUsual ? undefined : COUNTS[chromatic];
  return counted ?? `${/^a/.test(quality) ? 'an' : 'a'} ${quality} ${SIZES[diatonic]!}`;
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
