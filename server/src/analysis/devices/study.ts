/** A phrase prepared for finding devices: repeated notes joined into one, each with its chord, its weight and its neighbours. */
import type { Fraction } from '../../model/fraction';
import type { Note } from '../../model/types';
import { chroma, soundClass } from '../../theory/pitch';
import type { Chord, Scale } from '../../theory/types';
import { placesOf, type Places } from '../places';
import type { NoteReading, Reading, Role } from '../types';
import { connected, isBasicTone, isDominant, isLeap, isStep, move } from '../vocabulary';

/** A note, or the same note struck again and again. */
export interface Event {
  readonly index: number;
  /** Its notes in the phrase, in order. */
  readonly notes: readonly number[];
  readonly note: Note;
  readonly read: NoteReading;
  readonly midi: number;
  /** Its pitch class, 0 (C) to 11. */
  readonly sound: number;
  readonly onset: Fraction;
  readonly end: Fraction;
  readonly beat: Fraction; // the length of a beat where it stands, in quarters
  readonly chord: Chord | null;
  readonly scale: Scale | null;
  /** The index of the chord span it is heard against; null without a chord. */
  readonly span: number | null;
  readonly role: Role | null;
  /** A basic tone of its chord: 1, 3 (or sus), 5, 7 or 6. */
  readonly basic: boolean;
  /** The strength of its place (`Places.strengthAt`). */
  readonly weight: number;
  /** Nothing before it, or a rest of a beat or more: what follows counts as reached by leap. */
  readonly opens: boolean;
}

export interface Study {
  readonly reading: Reading;
  readonly places: Places;
  readonly events: readonly Event[];
}

export function studyOf(reading: Reading): Study {
  const places = placesOf(reading.phrase, reading.context);
  const groups: number[][] = [];
  reading.phrase.notes.forEach((note, i) => {
    const before = reading.phrase.notes[i - 1];
    const repeats = before !== undefined && before.midi === note.midi && connected(before, note, places);
    if (repeats) groups[groups.length - 1]!.push(i);
    else groups.push([i]);
  });
  const events = groups.map((notes, index) => eventOf(notes, index, reading, places));
  return { reading, places, events };
}

function eventOf(notes: readonly number[], index: number, reading: Reading, places: Places): Event {
  const { phrase } = reading;
  const note = phrase.notes[notes[0]!]!;
  const last = phrase.notes[notes[notes.length - 1]!]!;
  const read = reading.notes[notes[0]!]!;
  const span = read.placement?.span ?? null;
  const chord = span === null ? null : phrase.spans[span]!.chord;
  const before = phrase.notes[notes[0]! - 1];
  return {
    index,
    notes,
    note,
    read,
    midi: note.midi,
    sound: chroma(note.pitch),
    onset: note.onset,
    end: last.onset.add(last.duration),
    beat: places.barAt(note.onset).meter.beat,
    chord,
    span,
    scale: span === null ? null : (reading.scales[span] ?? null),
    role: read.placement?.role ?? null,
    basic: chord !== null && isBasicTone(chord, note.pitch),
    weight: places.strengthAt(note.onset),
    opens: before === undefined || !connected(before, note, places),
  };
}

/** The event before, if nothing parts the two. */
export function before({ events }: Study, event: Event): Event | null {
  return event.opens ? null : (events[event.index - 1] ?? null);
}

/** The event after, if nothing parts the two. */
export function after({ events }: Study, event: Event): Event | null {
  const next = events[event.index + 1];
  return next === undefined || next.opens ? null : next;
}

/** Reached by leap: more than a whole step, or from nothing. */
export function isReachedByLeap(study: Study, event: Event): boolean {
  const previous = before(study, event);
  return previous === null || isLeap(previous, event);
}

/** The chord tone to which a note that is no basic tone goes by step, where the line leapt to it; null of any other. */
export function stepAfterLeap(study: Study, event: Event): Event | null {
  if (event.basic || event.chord === null) return null;
  const next = after(study, event);
  return next !== null && isReachedByLeap(study, event) && isStep(event, next) && isChordTone(next) ? next : null;
}

/** Whether it is heard as a chord tone of its chord. */
export function isChordTone(event: Event): boolean {
  return event.role === 'chord-tone';
}

/** The b3 of a I7 that rises to its 3: heard as blue, not as a sharp nine. */
export function isBlueThird(study: Study, event: Event): boolean {
  const { tonic, blues } = study.reading.context;
  const home = tonic === null ? blues : chroma(tonic.tonic);
  if (event.chord === null || !isDominant(event.chord) || chroma(event.chord.root) !== home) return false;
  const next = after(study, event);
  return soundClass(event.sound - home) === 3 && next !== null && next.span === event.span && move(event, next) === 1;
}

/** A note of the key counts as one of its own chord's scale (iii and vi in major). */
export function inScale(scale: Scale | null, event: Event): boolean {
  if (scale !== null && scale === event.scale && event.read.placement?.ofKey === true) return true;
  return scale !== null && scale.sounds.has(event.sound);
}

/** Longest runs of some events in a row, unparted, in which every neighbouring pair satisfies a condition; at least `least` events long. */
export function runs(
  events: readonly Event[],
  least: number,
  goesOn: (from: Event, to: Event, run: readonly Event[]) => boolean,
): Event[][] {
  const found: Event[][] = [];
  let run: Event[] = [];
  const close = (): void => {
    if (run.length >= least) found.push(run);
  };
  for (const event of events) {
    const last = run[run.length - 1];
    if (last !== undefined && !event.opens && goesOn(last, event, run)) {
      run.push(event);
      continue;
    }
    close();
    // A run may start on the last note of the one before it.
    run = last !== undefined && !event.opens && goesOn(last, event, [last]) ? [last, event] : [event];
  }
  close();
  return found;
}
