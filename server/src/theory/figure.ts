/** Degrees: counting a note from the major scale on a root, and reading what a writer calls it. */
import { transposeName } from './interval';
import { byNextLetter, chroma } from './pitch';
import type { Chord, Figure, NoteName, Scale } from './types';

const MAJOR = [0, 2, 4, 5, 7, 9, 11] as const;

/** `b3`, `#11`, `7`, `bb7`: the figure as counted from the major scale. */
export function formatFigure({ number, alter }: Figure): string {
  return (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)) + String(number);
}

/** Reads `b3` or `#11`; null for anything else. */
export function parseFigure(text: string): Figure | null {
  const match = /^(b{0,2}|#{0,2})(1[13]|[1-79])$/.exec(text);
  if (match === null) return null;
  const accidental = match[1]!;
  return { number: Number(match[2]) as Figure['number'], alter: accidental.startsWith('b') ? -accidental.length : accidental.length };
}

/** Half steps above the root, 0 to 11. */
export function figureInterval({ number, alter }: Figure): number {
  return (((MAJOR[(number - 1) % 7]! + alter) % 12) + 12) % 12;
}

/** The spelled note that a figure is on a root. */
export function figureName(root: NoteName, figure: Figure): NoteName {
  const diatonic = (figure.number - 1) % 7;
  return transposeName(root, { diatonic, chromatic: MAJOR[diatonic]! + figure.alter });
}

/** The degree of a note counted by its letter: 1 to 7. */
export function degreeOf(root: NoteName, note: NoteName): Figure {
  const letters = 'CDEFGAB';
  const diatonic = (letters.indexOf(note.letter) - letters.indexOf(root.letter) + 7) % 7;
  let alter = (chroma(note) - chroma(root) - MAJOR[diatonic]!) % 12;
  if (alter > 6) alter -= 12;
  if (alter < -6) alter += 12;
  return { number: (diatonic + 1) as Figure['number'], alter };
}

const EXTENSION: Readonly<Record<number, 9 | 11 | 13>> = { 2: 9, 4: 11, 6: 13 };

/** 2, 4 and 6 are named 9, 11 and 13 unless the chord writes that number itself. */
function extended(figure: Figure, chord: Chord): Figure {
  const higher = EXTENSION[figure.number];
  if (higher === undefined || chord.tones.some((tone) => tone.figure.number === figure.number)) return figure;
  return { number: higher, alter: figure.alter };
}

/** The altered tensions that a dominant may carry, by half steps above its root. */
const DOMINANT_TENSIONS: ReadonlyMap<number, Figure> = new Map([
  [1, { number: 9, alter: -1 }],
  [3, { number: 9, alter: 1 }],
  [6, { number: 11, alter: 1 }],
  [8, { number: 13, alter: -1 }],
] as const);

/**
 * What a note is called over a chord, by its sound: the chord's written name, else that of a tension in the scale or of a
 * dominant, else the letter's.
 */
export function nameDegree(chord: Chord, scale: Scale | null, note: NoteName): Figure {
  const above = (chroma(note) - chroma(chord.root) + 12) % 12;
  const written = chord.tones.find((tone) => tone.interval === above);
  if (written !== undefined) return written.figure;
  const tension =
    chord.tones.some((tone) => tone.interval === 4) && chord.tones.some((tone) => tone.interval === 10)
      ? DOMINANT_TENSIONS.get(above)
      : undefined;
  if (tension !== undefined) return tension;
  const hasMajorThird = chord.tones.some((tone) => tone.interval === 4);
  // The lydian colour is available over any major third, so it is named as the tension it is.
  if (above === 6 && hasMajorThird) return { number: 11, alter: 1 };
  const inScale = scale?.tones.find((tone) => chroma(tone.name) === chroma(note));
  const byScale = inScale === undefined ? undefined : degreeOf(chord.root, inScale.name);
  const byLetter = degreeOf(chord.root, note);
  const chosen = byScale ?? byLetter;
  return extended(Math.abs(chosen.alter) <= 2 ? chosen : byLetter, chord);
}

/** A figure as a writer types it. */
export interface Written {
  readonly number: number;
  readonly accidental: string;
}

export type ResolvedDegree =
  | {
      readonly name: NoteName;
      readonly figure: Figure;
      readonly note?: { readonly kind: 'natural-for-missing' | 'altered-extension'; readonly offer?: string };
    }
  | { readonly error: 'no-seventh'; readonly fixes: readonly string[] };

/**
 * The note that a written figure means over a chord. `1 3 5 7` alone are the chord's own; 2/9, 4/11, 6/13 alone are major or
 * perfect; an accidental counts from the major scale, `n` forces its value. A 3 or 5 that the chord lacks is the major scale's.
 */
export function resolveDegree(chord: Chord, { number, accidental }: Written): ResolvedDegree {
  const literal = literalFigure({ number, accidental });
  if (accidental !== '') return { name: figureName(chord.root, literal), figure: literal };
  const own = chord.tones.filter((tone) => tone.figure.number === number);
  if (number === 1 || number === 3 || number === 5 || number === 7) {
    const tone = own[0];
    if (tone !== undefined) return { name: tone.name, figure: tone.figure };
    if (number === 7) return { error: 'no-seventh', fixes: ['b7', 'n7'] };
    return { name: figureName(chord.root, literal), figure: literal, note: { kind: 'natural-for-missing' } };
  }
  const altered = own.find((tone) => tone.figure.alter !== 0);
  const isAltered = number >= 9 && altered !== undefined && own.every((tone) => tone.figure.alter !== 0);
  const note = isAltered ? { kind: 'altered-extension' as const, offer: formatFigure(altered.figure) } : undefined;
  return { name: figureName(chord.root, literal), figure: literal, ...(note === undefined ? {} : { note }) };
}

function literalFigure({ number, accidental }: Written): Figure {
  const alter = accidental.startsWith('b') ? -accidental.length : accidental.startsWith('#') ? accidental.length : 0;
  return { number: number as Figure['number'], alter };
}

/**
 * The figure, as a writer types it, that `resolveDegree` reads back as the very same note (`n7`, `b3`, `3`). A note that would need
 * three accidentals (A## over Cb) has no such figure: it takes that of the same sound by the next letter.
 */
export function writeDegree(chord: Chord, note: NoteName): string {
  const figure = extended(degreeOf(chord.root, note), chord);
  if (Math.abs(figure.alter) > 2) return writeDegree(chord, byNextLetter(note, figure.alter > 0 ? 1 : -1));
  const sound = chroma(note);
  const bare = resolveDegree(chord, { number: figure.number, accidental: '' });
  if ('name' in bare && chroma(bare.name) === sound && bare.name.letter === note.letter && bare.note?.kind !== 'altered-extension')
    return String(figure.number);
  return figure.alter === 0 ? `n${figure.number}` : formatFigure(figure);
}

/**
 * A figure counted from the major scale as a writer can copy it: `resolveDegree` reads it back as the same sound. A natural 3, 5 or 7
 * that is not the chord's own, and a natural tension beside an altered one, need their sign: `n7` over G7, `n9` over G7b9.
 */
export function copyable(chord: Chord, figure: Figure): string {
  if (Math.abs(figure.alter) > 2) return writeDegree(chord, figureName(chord.root, figure));
  if (figure.alter !== 0) return formatFigure(figure);
  const bare = resolveDegree(chord, { number: figure.number, accidental: '' });
  return 'name' in bare && bare.figure.alter === 0 && bare.note?.kind !== 'altered-extension' ? formatFigure(figure) : `n${figure.number}`;
}

/**
 * Whether a written figure is a right name of a note's sound over a chord: the chord's own tone of that number, the figure as
 * counted from the major scale, or the altered form the chord writes for a bare extension.
 */
export function sameFigureSound(chord: Chord, written: Written, note: NoteName): boolean {
  const above = (chroma(note) - chroma(chord.root) + 12) % 12;
  const read = resolveDegree(chord, written);
  return 'name' in read
    ? chroma(read.name) === chroma(note)
    : figureInterval(literalFigure(written)) === above && written.accidental !== '';
}
