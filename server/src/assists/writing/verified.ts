/**
 * The proof of an edit: the phrase is read again after it, and a result that would change a bar, another note, or add a finding is refused.
 * The bars around the edit are read first, and mostly alone; the whole phrase where something in it looks farther.
 */
import { applyEdits } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import type { Problem, TextEdit } from '../../../../grammar/tree';
import type { Fraction } from '../../model/fraction';
import type { DeviceKind, Match } from '../../analysis/devices/device';
import { matchesOfKind } from '../../analysis/devices/read';
import { readPhrase } from '../../analysis/read';
import type { Reading } from '../../analysis/types';
import { buildPhrase } from '../../model/build';
import type { Note, Phrase, PlacedGroup } from '../../model/types';
import { isSevere, looksFar, severeProblemsOf } from '../../rules/severe';
import type { AssistContext } from '../assist';
import { flaggedBy } from './flagged';
import { windowOf, type Window } from './window';

/** What must be true of a result besides what must always be. */
export interface Wanted {
  /** The note whose finding must be gone; no other note may then be flagged in its place. */
  readonly repaired: number | null;
  /** Groups whose notes may change. */
  readonly groups: readonly number[];
  /** A pickup is being written. */
  readonly pickup?: boolean;
  /** A device that the analysis must find and did not find before, its target (or its first note) at that time. */
  readonly device?: { readonly kind: DeviceKind; readonly at: Fraction };
}

/** The edits, in order, with those that set figures of a `degrees` row right; null where the result would not do. */
export function verified(context: AssistContext, edits: readonly TextEdit[], wanted: Wanted): readonly TextEdit[] | null {
  const sorted = [...edits].sort((a, b) => a.range.start - b.range.start);
  const { phrase } = context.reading;
  const window = wanted.pickup === true ? null : windowOf(context, sorted);
  if (window === null || !holdsNote(window, wanted.repaired === null ? null : phrase.notes[wanted.repaired]!))
    return verifiedOnWhole(context, sorted, wanted);
  if (!isSound(context.reading, window, wanted)) return null;
  return hasFigures(phrase) || looksFar(phrase) ? verifiedOnWhole(context, sorted, wanted) : sorted;
}

/** The same by reading the whole phrase, whatever is written in it. */
export function verifiedOnWhole(context: AssistContext, edits: readonly TextEdit[], wanted: Wanted): readonly TextEdit[] | null {
  const sorted = [...edits].sort((a, b) => a.range.start - b.range.start);
  const first = readAfterEdits(context, sorted);
  if (first === null) return null;
  const figures = figureEdits(first, sorted);
  const all = figures.length === 0 ? sorted : [...sorted, ...figures].sort((a, b) => a.range.start - b.range.start);
  const after = figures.length === 0 ? first : readAfterEdits(context, all);
  const isKept = after !== null && sameBars(context.reading.phrase, after.phrase, wanted.pickup === true);
  return isKept && isSound(context.reading, { before: context.reading, after }, wanted) ? all : null;
}

function holdsNote({ before }: Window, note: Note | null): boolean {
  return note === null || before.phrase.notes.some(({ onset }) => onset.equals(note.onset));
}

function hasFigures({ item }: Phrase): boolean {
  return item.rows.some(({ kind }) => kind === 'degrees');
}

function readAfterEdits({ placed, snapshot, options }: AssistContext, edits: readonly TextEdit[]): Reading | null {
  const slice = parseSlice(applyEdits(placed.phrase.text, edits));
  if (
    slice.item.kind !== 'phrase' ||
    (slice.problems.length > 0 && hasNew(weighed(parseSlice(placed.phrase.text).problems, null), weighed(slice.problems, null)))
  )
    return null;
  return readPhrase(buildPhrase(slice, slice.item, snapshot.definitions).phrase, options);
}

/**
 * Problems by what they are, with how often each is there: one for another is a new one. What is about a note is known by the note's
 * sound and time, since its place in the text moves; a claim by its words; what counts its notes by its rule.
 */
function weighed(problems: readonly Problem[], phrase: Phrase | null): ReadonlyMap<string, number> {
  const weights = new Map<string, number>();
  for (const { rule, facts, about } of problems) {
    const note = about === undefined || phrase === null ? undefined : phrase.notes[about.note];
    const what = facts['count'] !== undefined ? '' : note !== undefined ? place(note) : String(facts['claim'] ?? JSON.stringify(facts));
    const key = `${rule} ${what}`;
    weights.set(key, (weights.get(key) ?? 0) + Number(facts['count'] ?? 1));
  }
  return weights;
}

function hasNew(before: ReadonlyMap<string, number>, after: ReadonlyMap<string, number>): boolean {
  return [...after].some(([key, weight]) => weight > (before.get(key) ?? 0));
}

function place(note: Note): string {
  return `${note.onset.toFraction()} ${note.midi}`;
}

/** The figures that the edits made wrong, set right; their places counted back to the text before the edits. */
function figureEdits(reading: Reading, edits: readonly TextEdit[]): TextEdit[] {
  if (!hasFigures(reading.phrase)) return [];
  const fixes = [...severeProblemsOf(reading), ...reading.phrase.problems]
    .filter(({ rule }) => rule === 'wrong-figure' || rule === 'figure-without-note')
    .flatMap(({ fixes: offered }) => offered.slice(0, 1).flatMap((fix) => fix.edits));
  return fixes.map(({ range, text }) => ({ range: { start: before(range.start, edits), end: before(range.end, edits) }, text }));
}

function before(offset: number, edits: readonly TextEdit[]): number {
  let shift = 0;
  for (const { range, text } of edits) {
    if (range.start + shift >= offset) break;
    shift += text.length - (range.end - range.start);
  }
  return offset - shift;
}

/** What `wanted` names by its place is counted in the whole phrase; the window may be that, too. */
function isSound({ phrase }: Reading, { before, after }: Window, wanted: Wanted): boolean {
  const groups = wanted.groups.map((index) => phrase.groups[index]!);
  const repaired = wanted.repaired === null ? null : phrase.notes[wanted.repaired]!;
  return othersStay(before.phrase, after.phrase, groups) && plantsDevice(before, after, wanted) && noWorse(before, after, repaired);
}

function sameBars(before: Phrase, after: Phrase, pickup: boolean): boolean {
  const lengths = (phrase: Phrase): string =>
    phrase.bars
      .filter((bar) => bar.number > 0 || !pickup)
      .map((bar) => `${bar.number}:${bar.length.toFraction()}`)
      .join(' ');
  return lengths(before) === lengths(after);
}

/** Every note outside the rewritten groups still starts when it did, at the same pitch. */
function othersStay(before: Phrase, after: Phrase, changed: readonly PlacedGroup[]): boolean {
  const sounding = new Set(after.notes.map((note) => `${note.onset.toFraction()} ${note.midi}`));
  return before.notes.every((note) => {
    const inside = changed.some((group) => note.onset.compare(group.onset) >= 0 && note.onset.compare(group.onset.add(group.duration)) < 0);
    return inside || sounding.has(`${note.onset.toFraction()} ${note.midi}`);
  });
}

/** No warning and no error is new, nor one in place of another; and what was to be repaired is. */
function noWorse(before: Reading, after: Reading, repaired: Note | null): boolean {
  const severe = (reading: Reading): ReadonlyMap<string, number> =>
    weighed([...severeProblemsOf(reading), ...reading.phrase.problems.filter(isSevere)], reading.phrase);
  if (hasNew(severe(before), severe(after))) return false;
  if (repaired === null) return true;
  // A repair flags no note that was not, wherever it moves it.
  const flagged = ({ notes, phrase }: Reading): string[] =>
    notes.filter(({ note }) => flaggedBy({ notes }, note) !== null).map(({ note }) => place(phrase.notes[note]!));
  const left = new Set(flagged(before).filter((one) => one !== place(repaired)));
  return flagged(after).every((one) => left.has(one));
}

/** What is there already is not planted: to offer it again would only take an accent, or a ghost's parentheses, off its notes. */
function plantsDevice(before: Reading, after: Reading, { device }: Wanted): boolean {
  if (device === undefined) return true;
  const known = new Set(matchesOfKind(before, device.kind).map((match) => soundsOf(match, before.phrase)));
  const { notes } = after.phrase;
  return matchesOfKind(after, device.kind).some(
    (match) =>
      (notes[match.target ?? match.notes[0]!]!.onset.equals(device.at) || notes[match.notes[0]!]!.onset.equals(device.at)) &&
      !known.has(soundsOf(match, after.phrase)),
  );
}

function soundsOf({ notes, target }: Match, phrase: Phrase): string {
  return [...notes, ...(target === null ? [] : [target])]
    .map((index) => `${phrase.notes[index]!.onset.toFraction()} ${phrase.notes[index]!.midi}`)
    .join(', ');
}
