import type { Fraction } from '../../model/fraction';
import { groupedBy } from '../../model/grouped';
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
  const told = notMadeOfOthers(statements(study)).sort(
    (a, b) => b.size - a.size || strengthOf(study, b) - strengthOf(study, a) || a.from - b.from,
  );
  const kept: Statements[] = [];
  const taken = new Set<number>();
  for (const one of told) {
    const notes = Array.from({ length: one.size * one.count }, (_, i) => one.from + i);
    if (notes.some((note) => taken.has(note))) continue;
    for (const note of notes) taken.add(note);
    kept.push(one);
  }
  const eventOf = study.events.flatMap((event) => event.notes.map(() => event.index));
  return kept.sort((a, b) => a.from - b.from).map((one) => foundOf(study, one, eventOf));
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

/** Without those whose model is itself two statements or more of a shorter one that goes on as far, and those that are later statements of one. In the order of their first notes. */
function notMadeOfOthers(all: readonly Statements[]): Statements[] {
  const byStart = groupedBy(all, ({ from }) => [from]);
  /** How far the statements before reach, by the size of their model and where its copies begin. */
  const reached = new Map<string, number>();
  return all.filter((one) => {
    const chain = `${one.size} ${one.from % one.size}`;
    const isLater = (reached.get(chain) ?? 0) >= endOf(one);
    reached.set(chain, Math.max(reached.get(chain) ?? 0, endOf(one)));
    return (
      !isLater &&
      !byStart.get(one.from)!.some((other) => other.size < one.size && one.size % other.size === 0 && endOf(other) >= endOf(one))
    );
  });
}

/** `eventOf` has the event of each note. */
function foundOf({ reading, events }: Study, { from, size, count }: Statements, eventOf: readonly number[]): Found {
  const notes = reading.phrase.notes.slice(from, from + size * count);
  const exact = notes.slice(size).every((note, i) => move(notes[i]!, note) === move(notes[i - (i % size)]!, notes[i - (i % size) + size]!));
  const inside = events.slice(eventOf[from], eventOf[from + size * count - 1]! + 1).every((event) => inScale(event.scale, event));
  return {
    notes: notes.map(({ index }) => index),
    target: null,
    detail: `${size} notes, ${count} times${exact ? ', exact' : inside ? ', diatonic' : ''}`,
  };
}

/** In the order of their first notes. */
function statements(study: Study): Statements[] {
  const { notes } = study.reading.phrase;
  const counts = new Map<string, number>();
  const onBeat = notes.map(({ onset }) => study.places.isOnBeat(onset));
  return notes.flatMap((_, from) => (onBeat[from] ? statementsFrom(study, from, { onBeat, counts }) : []));
}

/** `onBeat` has each note; `counts` are the statements of the models before, by size and first note. */
function statementsFrom(
  study: Study,
  from: number,
  { onBeat, counts }: { readonly onBeat: readonly boolean[]; readonly counts: Map<string, number> },
): Statements[] {
  const { phrase } = study.reading;
  const found: Statements[] = [];
  const longest = study.places.barAt(phrase.notes[from]!.onset).length.mul(LONGEST_IN_BARS);
  for (let size = 2; from + 2 * size <= phrase.notes.length; size += 1) {
    const period = phrase.notes[from + size]!.onset.sub(phrase.notes[from]!.onset);
    if (period.compare(longest) > 0) break;
    // Short figures may go across the beat; a long one that begins elsewhere in it is heard as something else.
    if (size > MOST_ACROSS && !onBeat[from + size]) continue;
    // A copy that is its model again, note for note, goes on as far as that does.
    const before = counts.get(`${size} ${from - size}`) ?? 1;
    const count =
      before > 2 && isSameModel(phrase.notes, from - size, from, size) ? before - 1 : countStatements(study, from, size, period);
    counts.set(`${size} ${from}`, count);
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

/** Whether two models, and the note after each, move alike by half steps and by places on the staff, in one rhythm. */
function isSameModel(notes: readonly Note[], one: number, other: number, size: number): boolean {
  for (let i = 1; i <= size; i += 1) {
    const [a, b, c, d] = [notes[one + i - 1]!, notes[one + i]!, notes[other + i - 1]!, notes[other + i]!];
    if (move(a, b) !== move(c, d) || staffMove(a, b) !== staffMove(c, d)) return false;
    if (!b.onset.sub(a.onset).equals(d.onset.sub(c.onset)) || (i < size && !a.duration.equals(c.duration))) return false;
  }
  return true;
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

/** The moves are compared first: most lines are no copies, and few moves tell it. */
function isCopy(model: readonly Note[], copy: readonly Note[]): boolean {
  let isExact = true;
  let isGeneric = true;
  for (let i = 1; i < model.length && (isExact || isGeneric); i += 1) {
    const [a, b, c, d] = [model[i - 1]!, model[i]!, copy[i - 1]!, copy[i]!];
    isExact &&= move(a, b) === move(c, d);
    isGeneric &&= Math.sign(move(a, b)) === Math.sign(move(c, d)) && staffMove(a, b) === staffMove(c, d);
  }
  if (!isExact && !isGeneric) return false;
  // The last note may be held for as long as the line likes.
  return model.every(
    (note, i) =>
      copy[i]!.onset.sub(copy[0]!.onset).equals(note.onset.sub(model[0]!.onset)) &&
      (i === model.length - 1 || copy[i]!.duration.equals(note.duration)),
  );
}

function staffMove(from: Note, to: Note): number {
  return staffPlace(to.pitch) - staffPlace(from.pitch);
}
