/**
 * The sounds of the chords: three notes without the root, the guide tones and one colour, each chord as near as may be to the one
 * before (common practice of accompaniment; the bass has the root).
 */
import { chroma, soundClass } from '../theory/pitch';
import type { Chord, ChordTone, Figure } from '../theory/types';
import type { Playing } from './line';
import type { Score } from './score';
import type { Sound } from './types';

/** MIDI numbers, inclusive: D3 to D5, where close voicings are clear and stay out of the bass's way (common practice). */
export const CHORDS = { low: 50, middle: 62, high: 74 } as const;

const VELOCITY = 0.45;

export function chordSounds({ chords }: Score, { seconds, shift }: Playing): Sound[] {
  let before: readonly number[] | null = null;
  return chords.map(({ chord, from, to }): Sound => {
    const midi = voiced(chord, shift, before);
    before = midi;
    const at = seconds(from);
    return { voice: 'chords', at, length: seconds(to) - at, midi, velocity: VELOCITY, accent: false };
  });
}

/** The notes that stand for a chord, the weightiest first: three, or as many as it has. */
export function voicedTones(chord: Chord): ChordTone[] {
  const tones: ChordTone[] = [];
  for (const tone of byWeight(chord)) {
    // A sharp ninth is a minor third: one key of the piano is played once.
    if (tone !== undefined && tones.length < 3 && tones.every(({ interval }) => interval !== tone.interval)) tones.push(tone);
  }
  return tones;
}

/** The colours in the order in which one is chosen. */
const COLOURS: readonly (readonly [Figure['number'], number])[] = [
  [9, -1],
  [9, 1],
  [11, 1],
  [13, 0],
  [13, -1],
  [9, 0],
  [11, 0],
];

function byWeight(chord: Chord): (ChordTone | undefined)[] {
  const { tones, family } = chord;
  const numbered = (...numbers: Figure['number'][]): ChordTone | undefined => tones.find(({ figure }) => numbers.includes(figure.number));
  const third = numbered(3) ?? numbered(4, 2);
  const seventh = numbered(7) ?? numbered(6);
  const fifth = numbered(5);
  // The lowered fifth tells these two from their neighbours, whatever is written above.
  if (family === 'half-diminished' || family === 'diminished-seventh') return [third, fifth, seventh, ...tones];
  const alteredFifth = fifth !== undefined && fifth.figure.alter !== 0 ? fifth : undefined;
  const colours = COLOURS.map(([number, alter]) => tones.find(({ figure }) => figure.number === number && figure.alter === alter));
  return [third, seventh ?? fifth, alteredFifth, ...colours, fifth, ...tones];
}

/** Among the placements in the range the one that moves least; from nothing, the one nearest the middle. Ties: the lower top note. */
function voiced(chord: Chord, shift: number, before: readonly number[] | null): number[] {
  let best: { readonly notes: number[]; readonly motion: number } | null = null;
  for (const notes of placements(chord, shift)) {
    const motion = motionFrom(before, notes);
    const gain = best === null ? 1 : best.motion - motion || best.notes[best.notes.length - 1]! - notes[notes.length - 1]!;
    if (gain > 0) best = { notes, motion };
  }
  return best?.notes ?? [];
}

/** All placements in the range but those with a half step on top, which is heard as a smudge on the highest note (common practice). */
function placements(chord: Chord, shift: number): number[][] {
  const all = everyPlacement(chord, shift);
  const clear = all.filter((notes) => notes.length < 2 || notes[notes.length - 1]! - notes[notes.length - 2]! !== 1);
  return clear.length > 0 ? clear : all;
}

function everyPlacement(chord: Chord, shift: number): number[][] {
  return voicedTones(chord)
    .map(({ interval }) => octavesOf(chroma(chord.root) + interval + shift, CHORDS))
    .reduce<number[][]>((all, octaves) => all.flatMap((notes) => octaves.map((note) => [...notes, note])), [[]])
    .map((notes) => notes.sort((a, b) => a - b));
}

/** All notes of a pitch class (any whole number, taken mod 12) in a range, ascending. */
export function octavesOf(pitchClass: number, { low, high }: { readonly low: number; readonly high: number }): number[] {
  const lowest = low + soundClass(pitchClass - low);
  return Array.from({ length: Math.floor((high - lowest) / 12) + 1 }, (_, i) => lowest + 12 * i);
}

/** Half steps in all, voice by voice; where the number of voices changes, each new note from the nearest old one. */
function motionFrom(before: readonly number[] | null, notes: readonly number[]): number {
  const distances = notes.map((note, i) => {
    if (before === null || before.length === 0) return Math.abs(note - CHORDS.middle);
    if (before.length === notes.length) return Math.abs(note - before[i]!);
    return Math.min(...before.map((old) => Math.abs(note - old)));
  });
  return distances.reduce((sum, distance) => sum + distance, 0);
}
