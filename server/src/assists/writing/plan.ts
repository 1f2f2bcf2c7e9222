/** Rewriting beat groups so that everything else stays: new slots for some groups, and the edits that make them so. `verified.ts` proves them. */
import { dressed } from '../../../../grammar/printer';
import type { NoteNode, TextEdit } from '../../../../grammar/tree';
import type { Fraction } from '../../model/fraction';
import { spanAt } from '../../model/time';
import type { Note, Phrase, PlacedGroup } from '../../model/types';
import { calledFigure, isSpelledStrangely } from '../../theory/called';
import { figureName, writeDegree } from '../../theory/figure';
import { keyScale } from '../../theory/key';
import {
  formatNoteName,
  midi,
  nearestOctave,
  nextAbove,
  nextBelow,
  pitchInText,
  plainSpelling,
  sameName,
  writable,
} from '../../theory/pitch';
import type { Pitch } from '../../theory/types';

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

function writeGroup(
  phrase: Phrase,
  group: PlacedGroup,
  slots: readonly NewSlot[],
  before: Pitch | null,
): { text: string; last: Pitch | null } | null {
  const weight = phrase.text.slice(group.range.start, group.slots[0]!.range.start);
  let last = before;
  const texts = slots.map((slot) => {
    if (slot.kind === 'hold') return '~';
    if (slot.kind === 'rest') return '.';
    const text =
      slot.kind === 'keep' ? keptText(phrase, phrase.notes[slot.note]!, last) : pitchText(phrase, slot.pitch, slot.like, last, group);
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
  direction: null,
  ghost: false,
  intended: false,
  accent: false,
  shortAccent: false,
};

/** A new pitch, as a degree in a line of degrees, else by its letter; an octave figure only where it is needed; null where it cannot be written. */
export function pitchText(phrase: Phrase, pitch: Pitch, like: Note | null, previous: Pitch | null, group: PlacedGroup): string | null {
  const dress = like === null ? BARE : { ...like.node, direction: null };
  const { letter, alter } = asCalled(phrase, pitch, group.onset);
  const name = { letter, alter };
  const chord = chordAt(phrase, group);
  if (
    isInDegrees(phrase) &&
    chord !== null &&
    previous !== null &&
    !isSpelledStrangely(chord, name, calledFigure(chord, name, { numbers: 'tensions', blue: false }))
  ) {
    for (const direction of [null, 'up', 'down'] as const) {
      if (midi(readAfter(pitch, midi(previous), direction)) === midi(pitch))
        return dressed({ ...dress, direction }, writeDegree(chord, name));
    }
  }
  const near = previous !== null && midi(nearestOctave(name, midi(previous))) === midi(pitch);
  const shown = readable(phrase, pitch, group.onset);
  const text = near ? formatNoteName(shown) : pitchInText(shown);
  return text === null ? null : dressed(dress, text);
}

/**
 * The same sound as one reads it at sight: as it is called over its chord, without a double accidental, and no Cb, Fb, E# or B#, unless the
 * key, or a chord that sounds at that time or next, has the note.
 */
export function readable(phrase: Phrase, wanted: Pitch, at: Fraction): Pitch {
  const pitch = asCalled(phrase, wanted, at);
  const span = spanAt(phrase.spans, at);
  const chords = span === null ? [] : [span, phrase.spans[span.index + 1]];
  const own = [
    ...chords.flatMap((one) => one?.chord?.tones.map(({ name }) => name) ?? []),
    ...(phrase.key === null ? [] : keyScale(phrase.key).tones.map(({ name }) => name)),
  ];
  return own.some((name) => sameName(name, pitch)) ? writable(pitch) : plainSpelling(pitch);
}

/** The b13 of a dominant is written as one, and not as a raised fifth, whichever note it leans on: Ab over C7. Any other note stays. */
function asCalled(phrase: Phrase, pitch: Pitch, at: Fraction): Pitch {
  const chord = spanAt(phrase.spans, at)?.chord ?? null;
  if (chord === null || ![4, 10].every((interval) => chord.tones.some((tone) => tone.interval === interval))) return pitch;
  const called = calledFigure(chord, pitch, { numbers: 'tensions', blue: false });
  const name = figureName(chord.root, called);
  return called.number === 13 && called.alter === -1 && Math.abs(name.alter) <= 1 ? nearestOctave(name, midi(pitch)) : pitch;
}

/** The names of new notes, in a title, as they will stand in a group. */
export function shownNames(phrase: Phrase, pitches: readonly Pitch[], { onset }: PlacedGroup): string[] {
  return pitches.map((pitch) => formatNoteName(readable(phrase, pitch, onset)));
}

function chordAt(phrase: Phrase, group: PlacedGroup): NonNullable<Phrase['spans'][number]['chord']> | null {
  const span = spanAt(phrase.spans, group.onset);
  return span !== null && span.end.compare(group.onset.add(group.duration)) >= 0 ? span.chord : null;
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
