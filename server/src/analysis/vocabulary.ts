/**
 * The words in which notes are judged, each decided here once: what is a step, a leap, a basic tone, a dominant; which notes are
 * connected, and which comes next. Finders, excuses, claims, hints and telling all use them. (The bar line of a pickup is `barLineOf` in
 * `model/time.ts`; how strong a place is, `Places.strengthAt`.)
 */
import type { Note, Phrase } from '../model/types';
import { chroma } from '../theory/pitch';
import type { Chord, NoteName } from '../theory/types';
import type { Places } from './places';
import type { ChordPlacement, Reading } from './types';

// ── Motion ─────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Anything with a height in half steps (60 is middle C): a note, or several struck in a row. */
interface Sounding {
  readonly midi: number;
}

/** Half steps from one note to another; up is positive. */
export function move(from: Sounding, to: Sounding): number {
  return to.midi - from.midi;
}

/** One or two half steps, however spelled. */
export function isStep(from: Sounding, to: Sounding): boolean {
  const size = Math.abs(move(from, to));
  return size === 1 || size === 2;
}

export function isHalfStep(from: Sounding, to: Sounding): boolean {
  return Math.abs(move(from, to)) === 1;
}

/** More than a whole step. */
export function isLeap(from: Sounding, to: Sounding): boolean {
  return Math.abs(move(from, to)) > 2;
}

// ── Connection ─────────────────────────────────────────────────────────────────────────────────────────────────────────────

export interface Line {
  readonly phrase: Phrase;
  readonly places: Places;
}

/** Whether nothing parts two neighbours: a rest of a beat or more does. */
export function connected(before: Note, next: Note, places: Places): boolean {
  const rest = next.onset.sub(before.onset.add(before.duration));
  return rest.compare(places.barAt(next.onset).meter.beat) < 0;
}

/** Whether one note begins just where the note before it ends. */
export function isJoined(before: Pick<Note, 'onset' | 'duration'>, next: Pick<Note, 'onset'>): boolean {
  return next.onset.equals(before.onset.add(before.duration));
}

/** The next note of another sound (repeated notes count as one); null after a rest of a beat or more. */
export function nextOther(note: Note, line: Line): Note | null {
  return other(note, line, 1);
}

/** The note of another sound before; null at the start of the phrase and after a rest of a beat or more. */
export function previousOther(note: Note, line: Line): Note | null {
  return other(note, line, -1);
}

/** By the note's index; of a note struck again and again, each is found from the one before. */
type Others = Map<number, Note | null>;

const others = new WeakMap<Phrase, { readonly places: Places; readonly next: Others; readonly previous: Others }>();

function other(note: Note, { phrase, places }: Line, way: 1 | -1): Note | null {
  const kept = others.get(phrase);
  const all = kept?.places === places ? kept : { places, next: new Map() as Others, previous: new Map() as Others };
  others.set(phrase, all);
  const known: Others = way === 1 ? all.next : all.previous;
  const struck: number[] = [];
  let current = note;
  let found: Note | null | undefined = known.get(note.index);
  while (found === undefined) {
    struck.push(current.index);
    const beside = phrase.notes[current.index + way];
    if (beside === undefined || !(way === 1 ? connected(current, beside, places) : connected(beside, current, places))) found = null;
    else if (beside.midi !== note.midi) found = beside;
    else found = known.get(beside.index);
    current = beside ?? current;
  }
  for (const index of struck) known.set(index, found);
  return found;
}

// ── Chords ─────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** The chord that a note is heard against, an anticipation against the one that comes in; null over none. */
export function chordUnder(reading: Pick<Reading, 'phrase' | 'notes'>, note: number): Chord | null {
  return chordOfPlacement(reading, reading.notes[note]!.placement);
}

/** The chord of a placement; null of none. */
export function chordOfPlacement({ phrase }: Pick<Reading, 'phrase'>, placement: Pick<ChordPlacement, 'span'> | null): Chord | null {
  return placement === null ? null : phrase.spans[placement.span]!.chord;
}

/** The chord that is written where a note begins; null where none is, or none could be read. */
export function chordWrittenAt({ spans }: Pick<Phrase, 'spans'>, { span }: Pick<Note, 'span'>): Chord | null {
  return span === null ? null : spans[span]!.chord;
}

/** Written in the symbol (its extensions and alterations too), or its bass. */
export function isChordTone(chord: Chord, note: NoteName): boolean {
  const sound = chroma(note);
  return chord.tones.some((tone) => chroma(tone.name) === sound) || isBass(chord, sound);
}

/** 1, 3 (or sus), 5 as written, 7 or 6; or its bass. */
export function isBasicTone(chord: Chord, note: NoteName): boolean {
  const sound = chroma(note);
  return chord.tones.some((tone) => tone.basic && chroma(tone.name) === sound) || isBass(chord, sound);
}

function isBass({ bass }: Chord, sound: number): boolean {
  return bass !== null && chroma(bass) === sound;
}

/** A major third with a minor seventh: what wants to fall. */
export function isDominant(chord: Chord): boolean {
  return chord.family === 'dominant' || chord.family === 'augmented-seventh' || chord.family === 'altered';
}

const MINOR = new Set(['minor', 'minor-seventh', 'minor-sixth', 'minor-major-seventh']);

export function isMinor(chord: Chord): boolean {
  return MINOR.has(chord.family);
}
