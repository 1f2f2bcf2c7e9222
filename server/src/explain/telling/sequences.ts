/** Which sequences are heard as that, and how. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { wrappedInEach } from '../device-words';
import { breathAfter } from './breath';
import { isToldAnew, repeatsOf } from './repeats';

/** Notes of a statement of a sequence, and of all its statements, that can be told at once. */
const STATEMENT = 4;
const STATEMENTS = 16;

/** Whether a device is a sequence that is heard as that. */
export function isHeard(reading: Reading, device: Device): boolean {
  return heardSequences(reading).has(device);
}

/** Looked up for each enclosure within them, and worked out once. */
const heardSequences = ofReading(
  (reading): ReadonlySet<Device> =>
    new Set(devicesOf(reading).filter((device) => device.kind === 'sequence' && !isUnheard(reading, device) && !cutsRun(reading, device))),
);

/** Whether a sequence is told as bars that do again what bars before them did; one told as a stretch goes before bars told anew (`asStretch`). */
export function isRepeated(reading: Reading, { from, to }: Pick<Device, 'from' | 'to'>, asStretch = false): boolean {
  return repeatsOf(reading).some((repeat) => repeat.from <= to && repeat.to >= from && !(asStretch && isToldAnew(reading, repeat)));
}

/** Whether a sequence can be told as a stretch of the line: at once, and without a breath in it. */
function isStretch(reading: Reading, device: Device): boolean {
  return isToldAtOnce(reading, device) && device.notes.every((note) => note === device.to || !breathAfter(reading, note));
}

/** Those that are heard, and not told as bars that come again. */
const toldSequences = ofReading(
  (reading): ReadonlySet<Device> =>
    new Set([...heardSequences(reading)].filter((device) => !isRepeated(reading, device, isStretch(reading, device)))),
);

/**
 * Whether what wraps a note is all of one cell, ends one statement of a sequence and begins the next, or lies within a short statement; but
 * not where both of two statements wrap a note there.
 */
export function isOfFigures(reading: Reading, { notes, target }: Device): boolean {
  return devicesAt(reading, notes[0]!).some((device) => {
    const { kind, from, to, detail } = device;
    const isInside = notes.every((note) => note >= from && note <= to);
    if (kind === 'cell') return isInside;
    if (!isInside || !toldSequences(reading).has(device)) return false;
    const size = Number.parseInt(detail, 10);
    const statementOf = (note: number): number => Math.floor((note - from) / size);
    const isOfOne = notes.every((note) => statementOf(note) === statementOf(notes[0]!));
    const isWithin = target !== null && target <= to && statementOf(target) === statementOf(notes[0]!);
    const isOfBoth =
      device.notes.length === size * 2 && target !== null && wrappedInEach(reading, device.notes, size) === (target - from) % size;
    return !isOfOne || (size <= STATEMENT && isWithin && !isOfBoth);
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

/** Whether nobody hears a sequence: its first two notes wrap the third, statements off the beat go now up, now down, or it is cut out of something else. */
function isUnheard(reading: Reading, { notes, detail }: Device): boolean {
  const size = Number.parseInt(detail, 10);
  const starts = notes.filter((_, i) => i % size === 0).map((note) => reading.phrase.notes[note]!.midi);
  const wraps =
    size === 2 &&
    devicesAt(reading, notes[0]!).some(({ kind, from, target }) => kind === 'enclosure' && from === notes[0] && target === notes[2]);
  return (
    wraps ||
    isAside(reading, notes, size) ||
    cutsArpeggio(reading, notes, size) ||
    cutsHalfSteps(reading, notes, size) ||
    (!isToldAtOnce(reading, { notes, detail }) && new Set(starts.slice(1).map((midi, i) => Math.sign(midi - starts[i]!))).size > 1)
  );
}

/**
 * Two statements from a weak beat on, where no breath parts it from the note before, the second over a change of chord; after a breath each
 * of them over one: each chord is heard from its own beat.
 */
function isAside(reading: Reading, notes: readonly number[], size: number): boolean {
  const { phrase, context, notes: read } = reading;
  const isOverChange = (from: number): boolean => read[notes[from]!]!.placement?.span !== read[notes[from + size - 1]!]!.placement?.span;
  const begins = notes[0] === 0 || breathAfter(reading, notes[0]! - 1);
  return (
    notes.length === size * 2 &&
    !placesOf(phrase, context).isStrong(phrase.notes[notes[0]!]!.onset) &&
    (!begins || isOverChange(0)) &&
    isOverChange(size)
  );
}

/** Notes of an arpeggio before a sequence that begins within it. */
const FEWEST_BEFORE = 2;

/** Whether the first of two statements begins within an arpeggio that goes on: the arpeggio is heard. */
function cutsArpeggio(reading: Reading, notes: readonly number[], size: number): boolean {
  const [start] = notes;
  return (
    notes.length === size * 2 &&
    devicesAt(reading, start!).some(
      ({ kind, from, to }) => (kind === 'arpeggio' || kind === 'cell') && from <= start! - FEWEST_BEFORE && to > start!,
    )
  );
}

/** Whether both of two statements go on by half steps one way, and one is cut out of more half steps: two such lines are alike anywhere. */
function cutsHalfSteps({ phrase }: Reading, notes: readonly number[], size: number): boolean {
  const step = phrase.notes[notes[1]!]!.midi - phrase.notes[notes[0]!]!.midi;
  const goesOn = (note: number): boolean =>
    phrase.notes[note] !== undefined &&
    phrase.notes[note + 1] !== undefined &&
    phrase.notes[note + 1]!.midi - phrase.notes[note]!.midi === step;
  const isByHalfSteps = notes.every((note, i) => i % size === size - 1 || goesOn(note));
  return (
    notes.length === size * 2 &&
    Math.abs(step) === 1 &&
    isByHalfSteps &&
    [notes[0]!, notes[size]!].some((start) => goesOn(start - 1) || goesOn(start + size - 1))
  );
}

/** Notes of a run after a sequence that ends within it. */
const FEWEST_LEFT = 2;

/** Whether the second of two statements begins in one bar and ends in the next within a run that goes on: the run is heard. */
function cutsRun(reading: Reading, { notes, detail, to }: Device): boolean {
  const size = Number.parseInt(detail, 10);
  const start = notes[size]!;
  const { bar } = reading.phrase.notes[start]!;
  return (
    notes.length === size * 2 &&
    reading.phrase.notes[to]!.bar !== bar &&
    devicesAt(reading, to).some(({ kind, from, to: end }) => kind === 'scale-run' && from > start && end >= to + FEWEST_LEFT)
  );
}
