/**
 * What a note is called over a chord: one of the figures that the trade says, by its sound. (`nameDegree` counts from the major scale and
 * knows every spelling; it is for data, this for people.)
 */
import { chroma, soundClass } from './pitch';
import type { Chord, Figure, NoteName } from './types';

/** Whether the scale's own 2, 4 and 6 are called so, or 9, 11 and 13. */
export type Numbers = 'tensions' | 'scale';

export interface Calling {
  readonly numbers: Numbers;
  /** A blue third or fifth of the chord's root. */
  readonly blue: boolean;
}

/** The figures of the trade beside those that chords write (2, 4, 6, bb7), by half steps above the root; where there are two, the first is usual. */
const FIGURES: readonly (readonly Figure[])[] = [
  [figure(1, 0)],
  [figure(9, -1)],
  [figure(9, 0)],
  [figure(9, 1), figure(3, -1)],
  [figure(3, 0)],
  [figure(11, 0)],
  [figure(11, 1), figure(5, -1)],
  [figure(5, 0)],
  [figure(13, -1), figure(5, 1)],
  [figure(13, 0)],
  [figure(7, -1)],
  [figure(7, 0)],
];

function figure(number: Figure['number'], alter: number): Figure {
  return { number, alter };
}

const MINOR = new Set([
  'minor',
  'minor-sixth',
  'minor-seventh',
  'minor-major-seventh',
  'half-diminished',
  'diminished',
  'diminished-seventh',
]);

/** The figure of a note over a chord. The same sound gets the same figure, but that a fifth is told by its letter: b5 over a minor chord, #5 over a major triad or sixth, both over an altered chord. */
export function calledFigure(chord: Chord, note: NoteName, { numbers, blue }: Calling): Figure {
  const above = soundClass(chroma(note) - chroma(chord.root));
  // “alt” writes altered fifths and ninths; which of two a note is, its letter says.
  if (chord.family === 'altered' && (above === 6 || above === 8) && letterNumber(chord.root, note) === 5) return figure(5, above - 7);
  const written = chord.tones.find((tone) => tone.interval === above);
  if (written !== undefined) return written.figure;
  const [usual, other] = FIGURES[above]!;
  if (other !== undefined && takesOther(above, chord, note, blue)) return other;
  return numbers === 'scale' && usual!.alter === 0 && usual!.number > 7 ? figure((usual!.number - 7) as Figure['number'], 0) : usual!;
}

/** Whether b3, b5 or #5 is said where #9, #11 or b13 is usual. */
function takesOther(above: number, chord: Chord, note: NoteName, blue: boolean): boolean {
  switch (above) {
    case 3:
      // Two notes that have no third take it from the line.
      return blue || MINOR.has(chord.family) || chord.family === 'power';
    case 6:
      return blue || (MINOR.has(chord.family) && letterNumber(chord.root, note) === 5);
    default:
      // G# over C6 is a raised fifth, Ab a lowered sixth.
      return (chord.family === 'major' || chord.family === 'major-sixth') && letterNumber(chord.root, note) === 5;
  }
}

/** The figures that are spelled otherwise without anyone minding: D-sharp for Eb over C7, A for Bbb over Cdim7. */
const ALSO_SPELLED: Readonly<Record<string, number>> = { '9 1': 3, '11 1': 5, '5 1': 6, '13 -1': 5, '7 -2': 6 };

/** Whether the spelling of a note belongs to none of the figures that its sound could have over the chord: A-sharp as the b9 of A7. */
export function isSpelledStrangely(chord: Chord, note: NoteName, called: Figure): boolean {
  const number = letterNumber(chord.root, note);
  const own = ((called.number - 1) % 7) + 1;
  if (number === own || number === ALSO_SPELLED[`${called.number} ${called.alter}`]) return false;
  // A blue note is as often spelled from below.
  const isBlue =
    !chord.tones.some((tone) => tone.figure.number === called.number && tone.figure.alter === called.alter) && called.alter === -1;
  return !(isBlue && ((called.number === 3 && number === 2) || (called.number === 5 && number === 4)));
}

/** Which letter of the scale on a root a note is spelled with, 1 to 7. */
function letterNumber(root: NoteName, { letter }: NoteName): number {
  const letters = 'CDEFGAB';
  return ((letters.indexOf(letter) - letters.indexOf(root.letter) + 7) % 7) + 1;
}
