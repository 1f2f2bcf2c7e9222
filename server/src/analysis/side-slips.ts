/**
 * Side-slips that the line makes evident: a figure that lies inside its chord comes again a half step higher or lower, and the line comes
 * back inside (THEORY: where it falls). Their notes are moved on purpose, so nothing is held against them, and nothing else is told of them.
 */
import type { Fraction } from '../model/fraction';
import type { Note, Phrase } from '../model/types';
import { chroma, soundClass } from '../theory/pitch';
import type { Scale } from '../theory/types';
import type { Places } from './places';
import type { NoteReading } from './types';

export interface SideSlip {
  /** Its first and last note. */
  readonly from: number;
  readonly to: number;
  /** 1 for a half step above the figure inside, -1 for one below. */
  readonly way: 1 | -1;
  /** The first note of the figure inside, which stands directly before it or directly after it. */
  readonly model: number;
  /** The note on which the line comes back inside. */
  readonly back: number;
}

/** A line that was heard: one placement a note, one chord-scale a span. */
export interface HeardLine {
  readonly phrase: Phrase;
  readonly places: Places;
  readonly scales: readonly (Scale | null)[];
  readonly notes: readonly Pick<NoteReading, 'placement' | 'soundings'>[];
}

const FEWEST = 4;
/** Fewer pitches are a trill, or a note struck again: no shape that one knows again. */
const FEWEST_PITCHES = 3;
const FEWEST_OUTSIDE = 2;
const MOST = 32;
const LONGEST_IN_BARS = 2;

/** The side-slips of a line by their notes: the longest first, then the strongest start; a note is of one at most. */
export function sideSlipsOf(line: HeardLine): ReadonlyMap<number, SideSlip> {
  const { places, phrase } = line;
  const found = movedFigures(phrase.notes)
    .filter((figure) => isInTime(line, figure))
    .flatMap((figure) => slipOf(line, figure) ?? []);
  const strength = ({ from }: SideSlip): number => places.strengthAt(phrase.notes[from]!.onset);
  const size = ({ from, to }: SideSlip): number => to - from;
  const byNote = new Map<number, SideSlip>();
  for (const slip of found.sort((a, b) => size(b) - size(a) || strength(b) - strength(a) || a.from - b.from)) {
    const notes = Array.from({ length: size(slip) + 1 }, (_, i) => slip.from + i);
    if (!notes.some((note) => byNote.has(note))) for (const note of notes) byNote.set(note, slip);
  }
  return byNote;
}

/** Two statements of a figure, the second a half step from the first. */
interface MovedFigure {
  readonly from: number;
  /** Notes of each. */
  readonly size: number;
  /** Half steps from the first statement to the second: one, and an octave more or less. */
  readonly by: number;
}

/** A half step, also in another octave: where a letter alone is written, the nearest one is meant. */
function isHalfStepAway(by: number): boolean {
  const size = Math.abs(by);
  return size === 1 || size === OCTAVE - 1 || size === OCTAVE + 1;
}

/** 1 up, -1 down, by its sound. */
function wayOf(by: number): 1 | -1 {
  return soundClass(by) === 1 ? 1 : -1;
}

const OCTAVE = 12;

/** All pairs of figures, one right after the other, with the same intervals and the same rhythm, a half step apart: whatever chords they stand over. */
export function movedFigures(notes: readonly Pick<Note, 'midi' | 'onset' | 'duration'>[]): MovedFigure[] {
  const found: MovedFigure[] = [];
  for (let from = 0; from + 2 * FEWEST <= notes.length; from += 1) {
    for (let size = FEWEST; size <= MOST && from + 2 * size <= notes.length; size += 1) {
      const by = notes[from + size]!.midi - notes[from]!.midi;
      if (isHalfStepAway(by) && isMoved(notes, { from, size, by })) found.push({ from, size, by });
    }
  }
  return found;
}

function isMoved(notes: readonly Pick<Note, 'midi' | 'onset' | 'duration'>[], { from, size, by }: MovedFigure): boolean {
  if (!isMovedBy(notes, from, from + size, size, by)) return false;
  const period = notes[from + size]!.onset.sub(notes[from]!.onset);
  for (let note = from; note < from + size; note += 1) {
    const [one, other] = [notes[note]!, notes[note + size]!];
    if (!other.onset.sub(one.onset).equals(period)) return false;
    // The last note may be shorter the second time, or the first.
    if (note < from + size - 1 && !other.duration.equals(one.duration)) return false;
  }
  return new Set(notes.slice(from, from + size).map(({ midi }) => midi)).size >= FEWEST_PITCHES;
}

/** Whether some notes are those of another place, each moved by as many half steps. */
function isMovedBy(notes: readonly Pick<Note, 'midi'>[], model: number, copy: number, size: number, by: number): boolean {
  for (let i = 0; i < size; i += 1) if (notes[copy + i]!.midi - notes[model + i]!.midi !== by) return false;
  return true;
}

/** Whole beats apart, two bars at most, and with no longer rest between them than the figure itself is. */
function isInTime({ phrase: { notes }, places }: HeardLine, { from, size }: MovedFigure): boolean {
  const [first, last, again] = [notes[from]!, notes[from + size - 1]!, notes[from + size]!];
  const { length, meter } = places.barAt(first.onset);
  const period = again.onset.sub(first.onset);
  const end = endOf(last);
  return (
    period.div(meter.beat).isWhole &&
    period.compare(length.mul(LONGEST_IN_BARS)) <= 0 &&
    again.onset.sub(end).compare(end.sub(first.onset)) <= 0
  );
}

function endOf({ onset, duration }: Note): Fraction {
  return onset.add(duration);
}

/** The statement that slips, where the other is inside; null where neither does, or the line does not come back. */
function slipOf(line: HeardLine, { from, size, by }: MovedFigure): SideSlip | null {
  const again = from + size;
  const way = wayOf(by);
  if (isInsideAll(line, from, size) && isAside(line, again, from, size) && isBack(line, again, size, by))
    return { from: again, to: again + size - 1, way, model: from, back: again + size };
  return isInsideAll(line, again, size) && isAside(line, from, again, size)
    ? { from, to: again - 1, way: way === 1 ? -1 : 1, model: again, back: again }
    : null;
}

function isInsideAll(line: HeardLine, from: number, size: number): boolean {
  for (let note = from; note < from + size; note += 1) if (!isInside(line, note)) return false;
  return true;
}

/** In the scale of its chord. */
function isInside(line: HeardLine, note: number): boolean {
  const { placement } = line.notes[note]!;
  return placement !== null && placement.role !== 'outside' && isHeld(line, note);
}

function isHeld({ phrase, notes, scales }: HeardLine, note: number): boolean {
  const { placement } = notes[note]!;
  const scale = placement === null ? null : scales[placement.span];
  return scale != null && scale.sounds.has(chroma(phrase.notes[note]!.pitch));
}

/** Whether a statement stands over the scale of its model, all of it, and two notes of it are outside that; its last note no longer than the model’s, or than a beat. */
function isAside(line: HeardLine, from: number, model: number, size: number): boolean {
  const { phrase, notes, scales, places } = line;
  let outside = 0;
  for (let i = 0; i < size; i += 1) {
    const own = notes[model + i]!.placement;
    const scale = own === null ? null : scales[own.span];
    const { placement, soundings } = notes[from + i]!;
    const spans = [placement?.span ?? null, ...soundings.map((sounding) => sounding.placement.span)];
    if (scale == null || spans.some((span) => span === null || !isSameScale(scales[span] ?? null, scale))) return false;
    if (!isHeld(line, from + i)) outside += 1;
  }
  const [last, original] = [phrase.notes[from + size - 1]!, phrase.notes[model + size - 1]!];
  const isShort = last.duration.compare(original.duration) <= 0 || last.duration.compare(places.barAt(last.onset).meter.beat) <= 0;
  return outside >= FEWEST_OUTSIDE && isShort;
}

function isSameScale(one: Scale | null, other: Scale): boolean {
  return (
    one !== null && (one === other || (one.sounds.size === other.sounds.size && [...one.sounds].every((sound) => other.sounds.has(sound))))
  );
}

/** Whether the line comes back inside after the second statement, less than a beat late, and does not go on to a third one the same way. */
function isBack(line: HeardLine, again: number, size: number, by: number): boolean {
  const { notes } = line.phrase;
  const back = notes[again + size];
  if (back === undefined || !isInside(line, back.index)) return false;
  const period = notes[again]!.onset.sub(notes[again - size]!.onset);
  const { beat } = line.places.barAt(back.onset).meter;
  const isThird = again + 2 * size <= notes.length && isMovedBy(notes, again, again + size, size, by);
  return back.onset.sub(notes[again]!.onset.add(period)).compare(beat) < 0 && !isThird;
}

/**
 * Whether notes that come behind the one at `last` could still make a note one of a side-slip: the scale a half step away holds it and all
 * notes since, or its figure is coming again there. The rhythm is left out: it is not told before a bar is whole.
 */
export function mayStillSlip(note: number, last: number, line: HeardLine): boolean {
  return mayStillSlipBy(note, last, 1, line) || mayStillSlipBy(note, last, -1, line);
}

/** `way` leads from the slip to the figure inside. */
function mayStillSlipBy(note: number, last: number, way: 1 | -1, line: HeardLine): boolean {
  const { notes } = line.phrase;
  const lies = (one: number): boolean => {
    const { placement } = line.notes[one]!;
    const scale = placement === null ? null : line.scales[placement.span];
    return scale != null && scale.sounds.has(soundClass(notes[one]!.midi + way));
  };
  if (!lies(note)) return false;
  let from = note;
  while (from > 0 && note - from < MOST && lies(from - 1)) from -= 1;
  let to = note;
  while (to < last && to - note < MOST && lies(to + 1)) to += 1;
  // The last note may be the one on which the line comes back, and is heard otherwise when one comes after it.
  if (to >= last - 1) return true;
  for (let first = from; first <= note; first += 1) {
    for (let again = Math.max(note + 1, first + FEWEST); again <= Math.min(to + 1, first + MOST); again += 1) {
      const size = again - first;
      if (again > last) return true;
      const by = notes[again]!.midi - notes[first]!.midi;
      if (
        again + size > last &&
        isHalfStepAway(by) &&
        wayOf(by) === way &&
        isMovedBy(notes, first, again, Math.min(size, last - again + 1), by)
      )
        return true;
    }
  }
  return false;
}
