/**
 * Rewriting beat groups so that everything else stays: new slots for some groups, and the edits that make them so. Every result
 * is read again before it is offered; one that would change a bar, another note, or add a finding is not.
 */
import { applyEdits, dressed } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import type { NoteNode, Problem, TextEdit } from '../../../../grammar/tree';
import type Fraction from 'fraction.js';
import type { DeviceKind, Match } from '../../analysis/devices/device';
import { matchesOfKind } from '../../analysis/devices/read';
import { readPhrase } from '../../analysis/read';
import type { Reading } from '../../analysis/types';
import { buildPhrase } from '../../model/build';
import type { Note, Phrase, PlacedGroup } from '../../model/types';
import { calledFigure, isSpelledStrangely } from '../../theory/called';
import { writeDegree } from '../../theory/figure';
import { keyScale } from '../../theory/key';
import { formatNoteName, midi, nearestOctave, nextAbove, nextBelow, pitchInText, plainSpelling, sameName, writable } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import { problemsOf } from '../../rules/findings';
import type { AssistContext } from '../assist';

/** A slot to be written. `note` keeps a note that is there; `pitch` writes a new one, dressed like another if that is given. */
export type NewSlot =
  | { readonly kind: 'keep'; readonly note: number }
  | { readonly kind: 'pitch'; readonly pitch: Pitch; readonly like: Note | null }
  | { readonly kind: 'hold' }
  | { readonly kind: 'rest' };

/** New slots for groups of the phrase, by the group's place in `phrase.groups`. */
export type Plan = ReadonlyMap<number, readonly NewSlot[]>;

/** The slots of a group as they are. */
export function slotsAsWritten(group: PlacedGroup): NewSlot[] {
  return group.slots.map((slot): NewSlot => {
    if (slot.kind === 'note' && slot.note !== null) return { kind: 'keep', note: slot.note };
    return slot.kind === 'hold' ? { kind: 'hold' } : { kind: 'rest' };
  });
}

/** Whether a group's text may be rewritten: not a cell's, nothing unreadable in its bar. */
export function isRewritable(phrase: Phrase, group: PlacedGroup): boolean {
  if (group.cell !== null || group.slots.some((slot) => slot.kind === 'bad')) return false;
  const bar = phrase.bars.find((one) => one.number === group.bar);
  return bar?.node != null && !bar.node.broken;
}

/**
 * The edits of a plan, octave figures added where a note would else move; null where a group cannot be rewritten. `lead` is a
 * pitch that will come just before, where that is not the one that is there now.
 */
export function editsOf(phrase: Phrase, plan: Plan, lead: Pitch | null = null): TextEdit[] | null {
  const indexes = [...plan.keys()];
  const first = Math.min(...indexes);
  const last = Math.max(...indexes);
  const edits: TextEdit[] = [];
  let previous = lead ?? pitchBefore(phrase, first);
  for (let index = first; index <= last; index += 1) {
    const group = phrase.groups[index];
    if (group === undefined || !isRewritable(phrase, group)) return null;
    const written = writeGroup(phrase, group, plan.get(index) ?? slotsAsWritten(group), previous);
    if (written === null) return null;
    edits.push({ range: group.range, text: written.text });
    previous = written.last;
  }
  const next = noteAfter(phrase, last);
  if (next !== null && previous !== null) {
    const settled = settleNext(phrase, next, previous);
    if (settled === null) return null;
    edits.push(...settled);
  }
  return edits.filter(({ range, text }) => phrase.text.slice(range.start, range.end) !== text);
}

function pitchBefore(phrase: Phrase, group: number): Pitch | null {
  const onset = phrase.groups[group]!.onset;
  return phrase.notes.findLast((note) => note.onset.compare(onset) < 0)?.pitch ?? null;
}

function noteAfter(phrase: Phrase, group: number): Note | null {
  const { onset, duration } = phrase.groups[group]!;
  const end = onset.add(duration);
  return phrase.notes.find((note) => note.onset.compare(end) >= 0) ?? null;
}

function writeGroup(phrase: Phrase, group: PlacedGroup, slots: readonly NewSlot[], before: Pitch | null): { text: string; last: Pitch | null } | null {
  const weight = phrase.text.slice(group.range.start, group.slots[0]!.range.start);
  let last = before;
  const texts = slots.map((slot) => {
    if (slot.kind === 'hold') return '~';
    if (slot.kind === 'rest') return '.';
    const text = slot.kind === 'keep' ? keptText(phrase, phrase.notes[slot.note]!, last) : pitchText(phrase, slot.pitch, slot.like, last, group);
    last = slot.kind === 'keep' ? phrase.notes[slot.note]!.pitch : slot.pitch;
    return text;
  });
  return texts.includes(null) ? null : { text: weight + texts.join('-'), last };
}

/** A note as written where it still sounds the same after `previous`, else with what places it. */
function keptText(phrase: Phrase, note: Note, previous: Pitch | null): string | null {
  const { head } = note.node;
  const headText = phrase.text.slice(head.range.start, head.range.end);
  if (landsAt(note, previous)) return dressed(note.node, headText);
  return placedText(phrase, note, previous);
}

/** Whether a note, written as it is, is still the same pitch after another note. */
export function landsAt(note: Note, previous: Pitch | null): boolean {
  const { head } = note.node;
  if (head.kind === 'pitch' && head.octave !== null) return true;
  if (previous === null) return false;
  return midi(readAfter(note.pitch, midi(previous), note.direction)) === note.midi;
}

function readAfter(pitch: Pitch, from: number, direction: Note['direction']): Pitch {
  const name = { letter: pitch.letter, alter: pitch.alter };
  if (direction === 'up') return nextAbove(name, from);
  return direction === 'down' ? nextBelow(name, from) : nearestOctave(name, from);
}

/** A note placed by a direction if it is a degree (or by none), by an octave figure if it is a pitch; null where it lies too low or too high for one. */
function placedText(phrase: Phrase, note: Note, previous: Pitch | null): string | null {
  const headText = phrase.text.slice(note.node.head.range.start, note.node.head.range.end);
  if (note.node.head.kind === 'degree' && previous !== null) {
    for (const direction of [null, 'up', 'down'] as const) {
      if (midi(readAfter(note.pitch, midi(previous), direction)) === note.midi) return dressed({ ...note.node, direction }, headText);
    }
  }
  const inOctave = pitchInText(note.pitch);
  if (inOctave === null) return null;
  const plain = note.node.head.kind === 'pitch' ? `${headText.replace(/\d$/, '')}${note.pitch.octave}` : inOctave;
  return dressed({ ...note.node, direction: null }, plain);
}

const BARE: Pick<NoteNode, 'direction' | 'ghost' | 'intended' | 'accent' | 'shortAccent'> = {
  direction: null, ghost: false, intended: false, accent: false, shortAccent: false,
};

/** A new pitch, as a degree in a line of degrees, else by its letter; an octave figure only where it is needed; null where it cannot be written. */
export function pitchText(phrase: Phrase, pitch: Pitch, like: Note | null, previous: Pitch | null, group: PlacedGroup): string | null {
  const dress = like === null ? BARE : { ...like.node, direction: null };
  const name = { letter: pitch.letter, alter: pitch.alter };
  const chord = chordAt(phrase, group);
  if (isInDegrees(phrase) && chord !== null && previous !== null && !isSpelledStrangely(chord, name, calledFigure(chord, name, { numbers: 'tensions', blue: false }))) {
    for (const direction of [null, 'up', 'down'] as const) {
      if (midi(readAfter(pitch, midi(previous), direction)) === midi(pitch)) return dressed({ ...dress, direction }, writeDegree(chord, name));
    }
  }
  const near = previous !== null && midi(nearestOctave(name, midi(previous))) === midi(pitch);
  const shown = readable(phrase, pitch, group.onset);
  const text = near ? formatNoteName(shown) : pitchInText(shown);
  return text === null ? null : dressed(dress, text);
}

/**
 * The same sound as one reads it at sight: without a double accidental, and no Cb, Fb, E# or B#, unless the key, or a chord that sounds at
 * that time or next, has the note.
 */
export function readable(phrase: Phrase, pitch: Pitch, at: Fraction): Pitch {
  const span = phrase.spans.findLast((one) => one.onset.compare(at) <= 0) ?? phrase.spans[0];
  const chords = span === undefined ? [] : [span, phrase.spans[span.index + 1]];
  const own = [...chords.flatMap((one) => one?.chord?.tones.map(({ name }) => name) ?? []), ...(phrase.key === null ? [] : keyScale(phrase.key).tones.map(({ name }) => name))];
  return own.some((name) => sameName(name, pitch)) ? writable(pitch) : plainSpelling(pitch);
}

/** The names of new notes, in a title, as they will stand in a group. */
export function shownNames(phrase: Phrase, pitches: readonly Pitch[], { onset }: PlacedGroup): string[] {
  return pitches.map((pitch) => formatNoteName(readable(phrase, pitch, onset)));
}

function chordAt(phrase: Phrase, group: PlacedGroup): NonNullable<Phrase['spans'][number]['chord']> | null {
  const span = phrase.spans.findLast((one) => one.onset.compare(group.onset) <= 0) ?? phrase.spans[0];
  return span !== undefined && span.end.compare(group.onset.add(group.duration)) >= 0 ? span.chord : null;
}

/** A line counts as written in degrees when most of its notes are. */
export function isInDegrees(phrase: Phrase): boolean {
  const degrees = phrase.notes.filter((note) => note.node.head.kind === 'degree').length;
  return degrees * 2 > phrase.notes.length;
}

/** What the first note after the rewritten groups needs so that it stays where it is. */
function settleNext(phrase: Phrase, next: Note, previous: Pitch): TextEdit[] | null {
  if (landsAt(next, previous)) return [];
  const text = next.cell !== null ? null : placedText(phrase, next, previous);
  return text === null ? null : [{ range: next.node.range, text }];
}

// ── Reading the result ─────────────────────────────────────────────────────────────────────────────────────────────────────

/** What must be true of a result besides what must always be. */
export interface Wanted {
  /** The note whose finding must be gone. */
  readonly repaired: number | null;
  /** Groups whose notes may change. */
  readonly groups: readonly number[];
  /** A pickup is being written. */
  readonly pickup?: boolean;
  /** A device that the analysis must find and did not find before, its target (or its first note) at that time. */
  readonly device?: { readonly kind: DeviceKind; readonly at: Fraction };
}

/** Reads the phrase after the edits, figures of a `degrees` row set right; null where the result would not do. */
export function verified(context: AssistContext, edits: readonly TextEdit[], wanted: Wanted): readonly TextEdit[] | null {
  const sorted = [...edits].sort((a, b) => a.range.start - b.range.start);
  const first = readAfterEdits(context, sorted);
  if (first === null) return null;
  const figures = figureEdits(first, sorted);
  const all = figures.length === 0 ? sorted : [...sorted, ...figures].sort((a, b) => a.range.start - b.range.start);
  const after = figures.length === 0 ? first : readAfterEdits(context, all);
  return after !== null && isSound(context, after, wanted) ? all : null;
}

function readAfterEdits({ placed, snapshot, options }: AssistContext, edits: readonly TextEdit[]): Reading | null {
  const slice = parseSlice(applyEdits(placed.phrase.text, edits));
  if (slice.item.kind !== 'phrase' || slice.problems.length > 0 && hasNew(weighed(parseSlice(placed.phrase.text).problems, null), weighed(slice.problems, null))) return null;
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
  const fixes = [...problemsOf(reading), ...reading.phrase.problems]
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

function isSound({ reading }: AssistContext, after: Reading, wanted: Wanted): boolean {
  const before = reading.phrase;
  return sameBars(before, after.phrase, wanted.pickup === true) && othersStay(before, after.phrase, wanted.groups) && noWorse(reading, after, wanted.repaired) && plantsDevice(reading, after, wanted);
}

function sameBars(before: Phrase, after: Phrase, pickup: boolean): boolean {
  const lengths = (phrase: Phrase): string => phrase.bars.filter((bar) => bar.number > 0 || !pickup).map((bar) => `${bar.number}:${bar.length.toFraction()}`).join(' ');
  return lengths(before) === lengths(after);
}

/** Every note outside the rewritten groups still starts when it did, at the same pitch. */
function othersStay(before: Phrase, after: Phrase, groups: readonly number[]): boolean {
  const changed = groups.map((index) => before.groups[index]!);
  const sounding = new Set(after.notes.map((note) => `${note.onset.toFraction()} ${note.midi}`));
  return before.notes.every((note) => {
    const inside = changed.some((group) => note.onset.compare(group.onset) >= 0 && note.onset.compare(group.onset.add(group.duration)) < 0);
    return inside || sounding.has(`${note.onset.toFraction()} ${note.midi}`);
  });
}

/** No warning and no error is new, nor one in place of another; and what was to be repaired is. */
function noWorse(before: Reading, after: Reading, repaired: number | null): boolean {
  const severe = ({ phrase }: Reading, problems: readonly Problem[]): ReadonlyMap<string, number> =>
    weighed([...problems, ...phrase.problems].filter(({ severity }) => severity === 'error' || severity === 'warning'), phrase);
  if (hasNew(severe(before, problemsOf(before)), severe(after, problemsOf(after)))) return false;
  if (repaired === null) return true;
  const flagged = after.notes.filter(({ verdict }) => verdict !== null && verdict.level !== 'hint').map(({ note }) => place(after.phrase.notes[note]!));
  return !flagged.includes(place(before.phrase.notes[repaired]!));
}

/** What is there already is not planted: to offer it again would only take an accent, or a ghost's parentheses, off its notes. */
function plantsDevice(before: Reading, after: Reading, { device }: Wanted): boolean {
  if (device === undefined) return true;
  const known = new Set(matchesOfKind(before, device.kind).map((match) => soundsOf(match, before.phrase)));
  const { notes } = after.phrase;
  return matchesOfKind(after, device.kind).some((match) =>
    (notes[match.target ?? match.notes[0]!]!.onset.equals(device.at) || notes[match.notes[0]!]!.onset.equals(device.at)) && !known.has(soundsOf(match, after.phrase)));
}

function soundsOf({ notes, target }: Match, phrase: Phrase): string {
  return [...notes, ...(target === null ? [] : [target])].map((index) => `${phrase.notes[index]!.onset.toFraction()} ${phrase.notes[index]!.midi}`).join(', ');
}
