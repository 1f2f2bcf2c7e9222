/** Notes, degrees and chords as they are said in class. All names come from here, so that they are changed in one place. */
import type { NoteReading, ChordPlacement, Reading } from '../analysis/types';
import { homeKey, keySounds } from '../analysis/keys';
import { isWrittenStrangely, ownInstead, shownFigure } from '../analysis/shown-figure';
import { degreeName, numberWord, withArticle } from '../rules/words';
import { chroma, formatNoteName, spokenName } from '../theory/pitch';
import { plain, say, type Words } from './say';
import { formatScale, isPentatonic } from '../theory/scale';
import type { Figure, Scale } from '../theory/types';

/** `Bb`: a note without its octave. */
export function noteName(reading: Reading, note: number): string {
  return formatNoteName(reading.phrase.notes[note]!.pitch);
}

/** `B-D-F-Ab`. */
export function noteNames(reading: Reading, notes: readonly number[]): string {
  return notes.map((note) => noteName(reading, note)).join('-');
}

/** Those that are foreign to the key; none where there is no key. */
export function foreignNotes(reading: Reading, notes: readonly number[]): readonly number[] {
  const key = homeKey(reading);
  const sounds = key === null ? null : keySounds(key);
  return sounds === null ? [] : notes.filter((note) => !sounds.has(chroma(reading.phrase.notes[note]!.pitch)));
}

/** `F and D`, `F, D and Eb`. */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}

/** `1 bar`, `4 bars`. */
export function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

/** Fifths that are called so though they are diminished: such a chord has no other. */
const DIMINISHED: ReadonlySet<string | undefined> = new Set(['diminished', 'diminished-seventh']);

/** `third` for a chord's own tone, whatever its colour, but `flat five` and `sharp five`; `flat nine`, `sharp eleven`, `ninth`, `major third` for the rest. */
export function degreeWords(
  reading: Reading,
  { span, called, role, blue }: Pick<ChordPlacement, 'span' | 'called' | 'role' | 'blue'>,
): string {
  const { chord } = reading.phrase.spans[span]!;
  if (chord !== null && role === 'chord-tone' && isOnlyBass(reading, span, called)) return 'bass note';
  const isAlteredFifth = called.number === 5 && (called.alter !== 0 || chord?.family === 'altered') && !DIMINISHED.has(chord?.family);
  if (role === 'chord-tone' && called.number <= 7 && !isAlteredFifth) return numberWord(called);
  if (blue?.atHome === true && blue.number === 3) return 'blue third';
  return degreeName(called);
}

/**
 * What is added to a degree: the chord's own tone where the note is another third, fifth or seventh (`where Dm7 has F`), and whose blue
 * note it is (`blue third of C`). Empty where there is nothing to add.
 */
export function degreeAddition(reading: Reading, placement: Pick<ChordPlacement, 'span' | 'called' | 'role' | 'blue'>): string {
  const own = ownInstead(reading, placement);
  if (own !== null) return `where ${chordName(reading, placement)} has ${spokenName(own)}`;
  const { blue } = placement;
  return blue === null || blue.atHome ? '' : `blue ${numberWord({ number: blue.number, alter: 0 })} of ${formatNoteName(blue.tonic)}`;
}

function isOnlyBass({ phrase }: Reading, span: number, figure: Figure): boolean {
  const { chord } = phrase.spans[span]!;
  return (
    chord !== null &&
    chord.bass !== null &&
    !chord.tones.some((tone) => tone.figure.number === figure.number && tone.figure.alter === figure.alter)
  );
}

export function chordName({ phrase }: Reading, { span }: Pick<ChordPlacement, 'span'>): string {
  return phrase.spans[span]!.symbol;
}

/** ` of C7`. */
export function ofChord(reading: Reading, placement: Pick<ChordPlacement, 'span'>): Words {
  return [{ before: ' of ', chord: chordName(reading, placement) }];
}

/** `C7`. */
export function theChord(reading: Reading, placement: Pick<ChordPlacement, 'span'>): Words {
  return [{ before: '', chord: chordName(reading, placement) }];
}

/** `E, the third of C7`; `F#, the major third, where Dm7 has F`; `the flat nine of A7, written A#`; the name alone where no chord sounds. */
export function withRole(reading: Reading, note: number, placement = reading.notes[note]!.placement): string {
  return plain(roleWords(reading, note, placement));
}

/** The same as words, in which the chord can be left out. */
export function inRole(reading: Reading, note: number): Words {
  return [{ note, words: roleWords(reading, note, reading.notes[note]!.placement) }];
}

function roleWords(reading: Reading, note: number, placement: ChordPlacement | null): Words {
  const name = noteName(reading, note);
  if (placement === null) return [name];
  const degree = degreeWords(reading, placement);
  const chord = ofChord(reading, placement);
  if (isWrittenStrangely(reading, note, placement)) return say`the ${degree}${chord}, written ${name}`;
  const own = ownInstead(reading, placement);
  if (own !== null) return say`${name}, the ${degree}, ${degreeAddition(reading, placement)}`;
  const addition = degreeAddition(reading, placement);
  return say`${name}, the ${degree}${chord}${addition === '' ? '' : `, ${addition}`}`;
}

/** `3-5-b7-b9`; notes without a chord are told by their names. */
export function figures(reading: Reading, notes: readonly number[]): string {
  return notes.map((note) => figureOf(reading, reading.notes[note]!)).join('-');
}

function figureOf(reading: Reading, { note, placement }: NoteReading): string {
  // The sign for a natural is for who types a figure.
  return placement === null ? noteName(reading, note) : shownFigure(reading, placement).replace(/^n/, '');
}

/** `D minor pentatonic`, `the F blues scale`, `the G bebop dominant scale`: the scale of a line, within a sentence. */
export function scaleInWords(scale: Scale): string {
  if (isPentatonic(scale)) return formatScale(scale);
  return scale.name === 'minor blues' ? `the ${formatNoteName(scale.root)} blues scale` : `the ${formatScale(scale)} scale`;
}

const SIZES = ['', 'step', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'octave'];
/** By half steps, from 1. */
const BY_HALF_STEPS = [
  'half step',
  'step',
  'third',
  'third',
  'fourth',
  'tritone',
  'fifth',
  'sixth',
  'sixth',
  'seventh',
  'seventh',
  'octave',
];

/** Letters of a fourth and a fifth, with the half steps of a perfect one. */
const PERFECT: ReadonlyMap<number, number> = new Map([
  [3, 5],
  [4, 7],
]);

/**
 * `a third higher`, `a half step lower`: by half steps where all notes move by as many (1 to 12), else by letters (1 to 7), up or down.
 * `first` are the half steps of the first note: a fourth that is not perfect is `a diatonic fourth`; null where a note is foreign to the key.
 */
export function distance(letters: number, halfSteps: number | null, first: number | null): string {
  const perfect = PERFECT.get(Math.abs(letters));
  const isDiatonic = halfSteps === null && perfect !== undefined && first !== null && Math.abs(first) !== perfect;
  const size = isDiatonic
    ? `diatonic ${SIZES[Math.abs(letters)]!}`
    : halfSteps === null || halfSteps === 0
      ? SIZES[Math.abs(letters)]!
      : (BY_HALF_STEPS[Math.abs(halfSteps) - 1] ?? SIZES[Math.abs(letters)]!);
  return `${withArticle(size)} ${(halfSteps ?? letters) > 0 ? 'higher' : 'lower'}`;
}
