/**
 * The parts: written ranges (orchestration handbooks, from memory), General MIDI programs (counted from 1, from memory), and
 * MusicXML `transpose` values.
 */
import { midi, parsePitch } from './pitch';
import { nearest } from './scale';
import type { Part, PartName, Pitch } from './types';

type RowOf = readonly [PartName, string, string, string, number, number, number, 'G' | 'F', number];

// name, label, lowest and highest written note, diatonic steps, half steps and octaves to the sounding note, clef, program
const TABLE: readonly RowOf[] = [
  ['concert', 'concert part', 'A0', 'C8', 0, 0, 0, 'G', 1],
  ['piano', 'piano', 'A0', 'C8', 0, 0, 0, 'G', 1],
  ['flute', 'flute', 'C4', 'D7', 0, 0, 0, 'G', 74],
  ['clarinet', 'clarinet', 'E3', 'C7', -1, -2, 0, 'G', 72],
  ['soprano-sax', 'soprano saxophone', 'Bb3', 'F6', -1, -2, 0, 'G', 65],
  ['alto-sax', 'alto saxophone', 'Bb3', 'F6', -5, -9, 0, 'G', 66],
  ['tenor-sax', 'tenor saxophone', 'Bb3', 'F6', -1, -2, -1, 'G', 67],
  ['baritone-sax', 'baritone saxophone', 'A3', 'F6', -5, -9, -1, 'G', 68],
  ['trumpet', 'trumpet', 'F#3', 'C6', -1, -2, 0, 'G', 57],
  ['trombone', 'trombone', 'E2', 'C5', 0, 0, 0, 'F', 58],
  ['guitar', 'guitar', 'E3', 'C7', 0, 0, -1, 'G', 27],
  ['bass', 'bass', 'E2', 'G4', 0, 0, -1, 'F', 33],
  ['voice', 'voice', 'C4', 'G5', 0, 0, 0, 'G', 53],
];

export const PARTS: readonly Part[] = TABLE.map(([name, label, low, high, diatonic, chromatic, octaves, clef, program]) => ({
  name,
  label,
  low: parsePitch(low)!,
  high: parsePitch(high)!,
  transpose: { diatonic, chromatic, octaves },
  clef,
  program,
}));

/** By its name, or as it is said: `tenor sax`, `alto saxophone`, `Alto`. */
export function partByName(name: string): Part | null {
  const said = hyphened(name).replace(/-saxophone$/, '-sax');
  return PARTS.find((part) => part.name === said || part.name === `${said}-sax` || part.label.replaceAll(' ', '-') === said) ?? null;
}

/** What a part is said for that has another name here. */
const SAID: Readonly<Record<string, readonly PartName[]>> = {
  bb: ['trumpet', 'tenor-sax', 'clarinet'],
  eb: ['alto-sax', 'baritone-sax'],
  c: ['concert'],
  vocal: ['voice'],
  vocals: ['voice'],
  singer: ['voice'],
  keys: ['piano'],
  keyboard: ['piano'],
};

/** The parts that a name may be meant for, the likeliest first: one that begins so or has it for a word, else those of nearly the same letters. */
export function nearestPartNames(text: string): PartName[] {
  const said = hyphened(text.slice(0, 40));
  if (Object.hasOwn(SAID, said)) return [...SAID[said]!];
  const begun =
    said.length < 2
      ? []
      : PARTS.filter(({ name, label }) => name.startsWith(said) || [...name.split('-'), ...label.split(' ')].includes(said));
  if (begun.length > 0) return begun.map(({ name }) => name);
  const called = PARTS.flatMap(({ name, label }) =>
    [name, label.replaceAll(' ', '-'), name.replace(/-sax$/, '')].map((one) => ({ name, called: one })),
  );
  const near = nearest(said, called, (one) => one.called);
  return [...new Set((near.length > 0 ? near : called.filter((one) => said.split('-').includes(one.called))).map(({ name }) => name))];
}

function hyphened(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, '-');
}

/** Whether a part reads the notes that sound. */
export function isConcert({ transpose }: Part): boolean {
  return transpose.chromatic === 0 && transpose.octaves === 0;
}

/** What an unnamed part is. */
export const CONCERT = partByName('concert')!;

interface SoundingRange {
  readonly low: Pitch;
  readonly high: Pitch;
}

const ranges = new WeakMap<Part, SoundingRange>();

/** The lowest and highest sounding notes. Spelled simply: a bound is compared by sound, and shown to people. */
export function soundingRange(part: Part): SoundingRange {
  const known = ranges.get(part);
  if (known !== undefined) return known;
  const { low, high, transpose } = part;
  const shift = transpose.chromatic + 12 * transpose.octaves;
  const range = { low: spelled(midi(low) + shift), high: spelled(midi(high) + shift) };
  ranges.set(part, range);
  return range;
}

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

function spelled(number: number): Pitch {
  return parsePitch(`${NAMES[number % 12]}${Math.floor(number / 12) - 1}`)!;
}
