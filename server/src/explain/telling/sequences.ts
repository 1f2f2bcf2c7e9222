/** Which sequences are heard as that, and how. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt } from '../../analysis/devices/read';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';

/** Notes of a statement of a sequence, and of all its statements, that can be told at once. */
const STATEMENT = 4;
const STATEMENTS = 16;

/** Whether what wraps a note is all of one cell, or ends one statement of a sequence and begins the next. */
export function isOfFigures(reading: Reading, { notes }: Device): boolean {
  return devicesAt(reading, notes[0]!).some(({ kind, from, to, detail }) => {
    const isInside = notes.every((note) => note >= from && note <= to);
    if (kind === 'cell') return isInside;
    const size = kind === 'sequence' && isInside ? Number.parseInt(detail, 10) : 0;
    return size > 0 && new Set(notes.map((note) => Math.floor((note - from) / size))).size > 1;
  });
}

/** A few short statements, each from a beat on; others are heard beside what the line is else. */
export function isToldAtOnce({ phrase, context }: Reading, { notes, detail }: Pick<Device, 'notes' | 'detail'>): boolean {
  const size = Number.parseInt(detail, 10);
  const places = placesOf(phrase, context);
  return (
    size <= STATEMENT && notes.length <= STATEMENTS && notes.every((note, i) => i % size > 0 || places.isOnBeat(phrase.notes[note]!.onset))
  );
}

/** Whether nobody hears a sequence: its first two notes wrap the third, or statements off the beat go now up, now down. */
export function isUnheard(reading: Reading, { notes, detail }: Device): boolean {
  const size = Number.parseInt(detail, 10);
  const starts = notes.filter((_, i) => i % size === 0).map((note) => reading.phrase.notes[note]!.midi);
  const wraps =
    size === 2 &&
    devicesAt(reading, notes[0]!).some(({ kind, from, target }) => kind === 'enclosure' && from === notes[0] && target === notes[2]);
  return (
    wraps ||
    isAside(reading, notes, size) ||
    (!isToldAtOnce(reading, { notes, detail }) && new Set(starts.slice(1).map((midi, i) => Math.sign(midi - starts[i]!))).size > 1)
  );
}

/** Two statements from a weak beat on, each over a change of chord: each chord is heard from its own beat. */
function isAside({ phrase, context, notes: read }: Reading, notes: readonly number[], size: number): boolean {
  const isOverChange = (from: number): boolean => read[notes[from]!]!.placement?.span !== read[notes[from + size - 1]!]!.placement?.span;
  return (
    notes.length === size * 2 &&
    !placesOf(phrase, context).isStrong(phrase.notes[notes[0]!]!.onset) &&
    isOverChange(0) &&
    isOverChange(size)
  );
}

/** Notes of a run after a sequence that ends within it. */
const FEWEST_LEFT = 2;

/** Whether the second of two statements begins in one bar and ends in the next within a run that goes on: the run is heard. */
export function cutsRun(reading: Reading, { notes, detail, to }: Device): boolean {
  const size = Number.parseInt(detail, 10);
  const start = notes[size]!;
  const { bar } = reading.phrase.notes[start]!;
  return (
    notes.length === size * 2 &&
    reading.phrase.notes[to]!.bar !== bar &&
    devicesAt(reading, to).some(({ kind, from, to: end }) => kind === 'scale-run' && from > start && end >= to + FEWEST_LEFT)
  );
}
