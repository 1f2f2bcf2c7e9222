/** Spelled notes: reading, writing, and where the next one of a name lies. Arithmetic is `tonal`'s. */
import { Note } from 'tonal';
import type { Letter } from '../../../grammar/tree';
import type { NoteName, Pitch } from './types';

const STEPS: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** The pitch class of a note, 0 (C) to 11 (B). */
export function chroma(name: NoteName): number {
  return soundClass(STEPS[name.letter] + name.alter);
}

/** The pitch class of a MIDI number; a line that falls and falls goes below 0. */
export function soundClass(sound: number): number {
  return ((sound % 12) + 12) % 12;
}

/** The MIDI note number; C4 is 60. Spelling counts: B#3 is 60, Cb4 is 59. */
export function midi(pitch: Pitch): number {
  return (pitch.octave + 1) * 12 + STEPS[pitch.letter] + pitch.alter;
}

/** The place of a pitch on the staff, counted in letters (C0 is 0): generic intervals are differences of these. */
export function staffPlace({ letter, octave }: Pick<Pitch, 'letter' | 'octave'>): number {
  return octave * 7 + 'CDEFGAB'.indexOf(letter);
}

/** The frequency in hertz, equal temperament on A4 = 440 Hz (ISO 16). */
export function frequency(pitch: Pitch): number {
  return 440 * 2 ** ((midi(pitch) - 69) / 12);
}

export function formatNoteName({ letter, alter }: NoteName): string {
  return letter + (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
}

/** As in scientific pitch notation: `Bb4`. */
export function formatPitch(pitch: Pitch): string {
  return `${formatNoteName(pitch)}${pitch.octave}`;
}

/** A pitch as it can stand in a line: null where its octave is no single figure, for a minus would part two notes. */
export function pitchInText(pitch: Pitch): string | null {
  const written = writable(pitch);
  return written.octave < 0 || written.octave > 9 ? null : formatPitch(written);
}

/** A note as it is said: `Bb`; a double accidental with what one reads first, `A (strictly Bbb)`. */
export function spokenName(name: NoteName): string {
  return Math.abs(name.alter) < 2
    ? formatNoteName(name)
    : `${formatNoteName(plainSpelling({ ...name, octave: 4 }))} (strictly ${formatNoteName(name)})`;
}

/** Reads `Bb`, `F##`, `B♭`; null for anything else. */
export function parseNoteName(text: string): NoteName | null {
  const note = Note.get(text.replaceAll('♭', 'b').replaceAll('♯', '#'));
  if (note.empty || note.oct !== undefined || note.letter !== text[0]) return null;
  return { letter: note.letter as Letter, alter: note.alt };
}

/** Reads `Bb4`; null for anything else. */
export function parsePitch(text: string): Pitch | null {
  const note = Note.get(text.replaceAll('♭', 'b').replaceAll('♯', '#'));
  if (note.empty || note.oct === undefined || note.letter !== text[0]) return null;
  return { letter: note.letter as Letter, alter: note.alt, octave: note.oct };
}

export function nameOf({ letter, alter }: Pitch): NoteName {
  return { letter, alter };
}

export function sameName(a: NoteName, b: NoteName): boolean {
  return a.letter === b.letter && a.alter === b.alter;
}

/** The lowest pitch of a name that sounds at `from` (a MIDI number) or above. */
function atOrAbove(name: NoteName, from: number): Pitch {
  const inOctaveZero = 12 + STEPS[name.letter] + name.alter;
  return { letter: name.letter, alter: name.alter, octave: Math.ceil((from - inOctaveZero) / 12) };
}

/** The pitch of a name nearest in sound to a MIDI number; a tritone goes up. */
export function nearestOctave(name: NoteName, from: number): Pitch {
  return atOrAbove(name, from - 5);
}

/** The next pitch of a name strictly above a MIDI number. */
export function nextAbove(name: NoteName, from: number): Pitch {
  return atOrAbove(name, from + 1);
}

/** The next pitch of a name strictly below a MIDI number. */
export function nextBelow(name: NoteName, from: number): Pitch {
  return atOrAbove(name, from - 12);
}

const LETTERS: readonly Letter[] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/** The same sound spelled so that it can be written: a note with three accidentals or more moves to a neighbouring letter. */
export function writable(pitch: Pitch): Pitch {
  if (Math.abs(pitch.alter) <= 2) return pitch;
  const index = LETTERS.indexOf(pitch.letter) + Math.sign(pitch.alter);
  const octave = pitch.octave + Math.floor(index / 7);
  const natural: Pitch = { letter: LETTERS[(index + 7) % 7]!, alter: 0, octave };
  return writable({ ...natural, alter: midi(pitch) - midi(natural) });
}

/** The same sound with one accidental at most, and never Cb, Fb, E# or B#; a flat stays a flat, and a sharp a sharp, where that can be. */
export function plainSpelling(pitch: Pitch): Pitch {
  const isPlain = Math.abs(pitch.alter) <= 1 && !['Cb', 'Fb', 'E#', 'B#'].includes(formatNoteName(pitch));
  if (isPlain) return pitch;
  const names = LETTERS.flatMap((letter) => [0, Math.sign(pitch.alter)].map((alter): NoteName => ({ letter, alter })));
  const plain = names
    .filter((name) => chroma(name) === chroma(pitch) && !['Cb', 'Fb', 'E#', 'B#'].includes(formatNoteName(name)))
    .sort((a, b) => Math.abs(a.alter) - Math.abs(b.alter))[0]!;
  return nearestOctave(plain, midi(pitch));
}

/** The same sound by the next letter up or down: A## is B, and B by the next letter Cb. */
export function byNextLetter(name: NoteName, way: 1 | -1): NoteName {
  const letter = LETTERS[(LETTERS.indexOf(name.letter) + way + 7) % 7]!;
  const away = soundClass(chroma(name) - STEPS[letter]);
  return { letter, alter: away > 6 ? away - 12 : away };
}
