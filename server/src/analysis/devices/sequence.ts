import type Fraction from 'fraction.js';
import type { Note } from '../../model/types';
import { staffPlace } from '../../theory/pitch';
import { move } from '../vocabulary';
import type { Find, Found } from './device';
import { inScale, type Study } from './study';

/**
 * A model of three notes or more stated twice, or of two stated three times, each time at another pitch, with the same rhythm, directions
 * and generic or exact intervals (common practice). The longest model goes first, then the strongest start.
 */
export const sequence: Find = (study) => {
  const { notes } = study.reading.phrase;
  const all = notes.flatMap((_, from) => (study.places.isOnBeat(notes[from]!.onset) ? statementsFrom(study, from) : []));
  const told = all.filter((one) => !all.some((other) => isMadeOf(one, other))).sort((a, b) => b.size - a.size || strengthOf(study, b) - strengthOf(study, a) || a.from - b.from);
  const kept: Statements[] = [];
  for (const one of told) if (!kept.some((other) => one.from < endOf(other) && other.from < endOf(one))) kept.push(one);
  return kept.sort((a, b) => a.from - b.from).map((one) => foundOf(study, one));
};

/** A model with its copies, one after another. */
interface Statements {
  readonly from: number;
  /** Notes of the model. */
  readonly size: number;
  readonly count: number;
}

const LONGEST_IN_BARS = 2;
/** Notes of a model that need not begin on a beat each time. */
const MOST_ACROSS = 4;

function endOf({ from, size, count }: Statements): number {
  return from + size * count;
}

function strengthOf({ places, reading }: Study, { from }: Statements): number {
  return places.strengthAt(reading.phrase.notes[from]!.onset);
}

/** Whether a model is itself two statements or more of a shorter one that goes on as far, or a later statement of one. */
function isMadeOf(one: Statements, other: Statements): boolean {
  if (one === other || endOf(other) < endOf(one)) return false;
  return other.size === one.size ? other.from < one.from && (one.from - other.from) % one.size === 0 : other.from === one.from && one.size % other.size === 0;
}

function foundOf({ reading, events }: Study, { from, size, count }: Statements): Found {
  const notes = reading.phrase.notes.slice(from, from + size * count);
  const exact = notes.slice(size).every((note, i) => move(notes[i]!, note) === move(notes[i - (i % size)]!, notes[i - (i % size) + size]!));
  const inside = events.filter((event) => event.notes.some((note) => note >= from && note < from + size * count)).every((event) => inScale(event.scale, event));
  return { notes: notes.map(({ index }) => index), target: null, detail: `${size} notes, ${count} times${exact ? ', exact' : inside ? ', diatonic' : ''}` };
}

function statementsFrom(study: Study, from: number): Statements[] {
  const { phrase } = study.reading;
  const found: Statements[] = [];
  const longest = study.places.barAt(phrase.notes[from]!.onset).length.mul(LONGEST_IN_BARS);
  for (let size = 2; from + 2 * size <= phrase.notes.length; size += 1) {
    const period = phrase.notes[from + size]!.onset.sub(phrase.notes[from]!.onset);
    if (period.compare(longest) > 0) break;
    // Short figures may go across the beat; a long one that begins elsewhere in it is heard as something else.
    if (size > MOST_ACROSS && !study.places.isOnBeat(phrase.notes[from + size]!.onset)) continue;
    const count = countStatements(study, from, size, period);
    if (count >= (size === 2 ? 3 : 2)) found.push({ from, size, count });
  }
  return found;
}

function countStatements(study: Study, from: number, size: number, period: Fraction): number {
  const { notes } = study.reading.phrase;
  const model = notes.slice(from, from + size);
  const step = staffPlace(notes[from + size]!.pitch) - staffPlace(model[0]!.pitch);
  if (!isFigure(model, notes[from + size]!)) return 1;
  for (let count = 1; ; count += 1) {
    const copy = notes.slice(from + count * size, from + (count + 1) * size);
    const before = notes[from + (count - 1) * size]!;
    const isOn = copy.length === size && copy[0]!.onset.sub(before.onset).equals(period) && copy[0]!.midi !== before.midi;
    // With its first note inflected alone it is the same figure in the same place.
    const isMoved = isOn && (staffPlace(copy[0]!.pitch) !== staffPlace(before.pitch) || movesOf(model).join() === movesOf(copy).join());
    // Two notes make a model only where they go on by one distance.
    const isEven = size > 2 || (isOn && staffPlace(copy[0]!.pitch) - staffPlace(before.pitch) === step);
    if (!isMoved || !isEven || !isCopy(model, copy)) return count;
  }
}

/** What goes one way only, and on into its copy, is a scale or an arpeggio; what stays on a note has no shape. */
function isFigure(model: readonly Note[], next: Note): boolean {
  const ways = new Set(model.slice(1).map((note, i) => Math.sign(move(model[i]!, note))));
  if (ways.has(1) && ways.has(-1)) return true;
  const back = Math.sign(move(model[model.length - 1]!, next));
  return (ways.has(1) && back === -1) || (ways.has(-1) && back === 1);
}

function movesOf(notes: readonly Note[]): number[] {
  return notes.slice(1).map((note, i) => move(notes[i]!, note));
}

function isCopy(model: readonly Note[], copy: readonly Note[]): boolean {
  // The last note may be held for as long as the line likes.
  const sameRhythm = model.every((note, i) =>
    copy[i]!.onset.sub(copy[0]!.onset).equals(note.onset.sub(model[0]!.onset)) && (i === model.length - 1 || copy[i]!.duration.equals(note.duration)));
  const moves = (notes: readonly Note[], size: (from: Note, to: Note) => number): number[] => notes.slice(1).map((note, i) => size(notes[i]!, note));
  const same = (size: (from: Note, to: Note) => number): boolean => moves(model, size).join() === moves(copy, size).join();
  const generic = (from: Note, to: Note): number => staffPlace(to.pitch) - staffPlace(from.pitch);
  return sameRhythm && (same(move) || (same(generic) && same((from, to) => Math.sign(move(from, to)))));
}
