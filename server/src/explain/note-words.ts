/** Notes, degrees and chords as they are said in class. All names come from here, so that they are changed in one place. */
import type { NoteReading, ChordPlacement, Reading } from '../analysis/types';
import { isDominant } from '../analysis/vocabulary';
import { shownFigure } from '../analysis/shown-figure';
import { numberWord } from '../rules/words';
import { formatNoteName } from '../theory/pitch';
import type { Figure } from '../theory/types';

/** `Bb`: a note without its octave. */
export function noteName(reading: Reading, note: number): string {
  return formatNoteName(reading.phrase.notes[note]!.pitch);
}

/** `B-D-F-Ab`. */
export function noteNames(reading: Reading, notes: readonly number[]): string {
  return notes.map((note) => noteName(reading, note)).join('-');
}

/** `F and D`, `F, D and Eb`. */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}

/** `third` for a chord's own tone, whatever its colour; `flat nine`, `sharp eleven`, `ninth`, `major third` for the rest. */
export function degreeWords(reading: Reading, { span, figure, role }: Pick<ChordPlacement, 'span' | 'figure' | 'role'>): string {
  const { chord } = reading.phrase.spans[span]!;
  const own = role === 'chord-tone' && [1, 2, 3, 4, 5, 6, 7].includes(figure.number);
  if (chord !== null && role === 'chord-tone' && isOnlyBass(reading, span, figure)) return 'bass note';
  if (own) return numberWord(figure);
  if (role === 'blue' && figure.number === 9 && figure.alter === 1) return 'blue third';
  if (figure.alter === 0) return figure.number === 3 || figure.number === 7 ? `major ${numberWord(figure)}` : numberWord(figure);
  if (figure.number === 3 && figure.alter === -1) return chord !== null && isDominant(chord) ? 'sharp nine' : 'minor third';
  return `${figure.alter < 0 ? 'flat' : 'sharp'} ${COUNTED[figure.number] ?? String(figure.number)}`;
}

const COUNTED: Readonly<Record<number, string>> = { 1: 'one', 2: 'two', 3: 'three', 4: 'four', 5: 'five', 6: 'six', 7: 'seven', 9: 'nine', 11: 'eleven', 13: 'thirteen' };

function isOnlyBass({ phrase }: Reading, span: number, figure: Figure): boolean {
  const { chord } = phrase.spans[span]!;
  return chord !== null && chord.bass !== null && !chord.tones.some((tone) => tone.figure.number === figure.number && tone.figure.alter === figure.alter);
}

export function chordName({ phrase }: Reading, { span }: Pick<ChordPlacement, 'span'>): string {
  return phrase.spans[span]!.symbol;
}

/** `E, the third of C7`; the name alone where no chord sounds. */
export function withRole(reading: Reading, note: number, placement = reading.notes[note]!.placement): string {
  const name = noteName(reading, note);
  return placement === null ? name : `${name}, the ${degreeWords(reading, placement)} of ${chordName(reading, placement)}`;
}

/** `3-5-b7-b9`; notes without a chord are told by their names. */
export function figures(reading: Reading, notes: readonly number[]): string {
  return notes.map((note) => figureOf(reading, reading.notes[note]!)).join('-');
}

function figureOf(reading: Reading, { note, placement }: NoteReading): string {
  return placement === null ? noteName(reading, note) : shownFigure(reading, placement);
}
