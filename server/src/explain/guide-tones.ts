/** A line of guide tones: all its notes, or all on its strong beats, are thirds and sevenths of changes that it goes through by step. */
import { ofReading } from '../analysis/of-reading';
import { placesOf } from '../analysis/places';
import { chordOfPlacement } from '../analysis/vocabulary';
import type { NoteReading, Reading } from '../analysis/types';
import { groupedBy } from '../model/grouped';

export interface GuideTones {
  readonly where: 'everywhere' | 'on strong beats';
  /** Indexes of the notes of each voice, in order; two, or one; none where they are no voices. */
  readonly voices: readonly (readonly number[])[];
}

/** Fewer chords, or strong beats, have guide tones by chance. */
const FEWEST_CHORDS = 3;
const FEWEST_ON_BEATS = 5;
/** Half steps that a voice goes on by. */
const STEP = 2;

/** Null where the line is none. */
export const guideTones = ofReading((reading): GuideTones | null => {
  const { phrase, notes, context } = reading;
  if (notes.length === 0 || notes.some(({ placement }) => placement === null)) return null;
  const chords = overChords(reading, notes);
  if (chords.length < FEWEST_CHORDS) return null;
  if (notes.every((note) => isGuideTone(reading, note))) return { where: 'everywhere', voices: voicesOf(reading, chords) };
  const places = placesOf(phrase, context);
  const strong = notes.filter(({ note }) => places.isStrong(phrase.notes[note]!.onset));
  const over = overChords(reading, strong);
  const isLine =
    strong.length >= FEWEST_ON_BEATS &&
    strong.every((note) => isGuideTone(reading, note)) &&
    over.length === chords.length &&
    over.slice(1).every((own, i) => isLed(reading, over[i]!, own));
  return isLine ? { where: 'on strong beats', voices: [] } : null;
});

function overChords({ context }: Reading, notes: readonly NoteReading[]): readonly (readonly NoteReading[])[] {
  return [...groupedBy(notes, ({ placement }) => [context.ofSpan[placement!.span]!]).values()];
}

/** A third or seventh of its chord, or the sixth that takes the place of the seventh. */
function isGuideTone(reading: Reading, { placement }: NoteReading): boolean {
  if (placement?.role !== 'chord-tone') return false;
  const { number } = placement.called;
  return number === 3 || number === 7 || (number === 6 && chordOfPlacement(reading, placement)!.family.endsWith('sixth'));
}

/** Whether each note over a chord goes on from one over the chord before. */
function isLed({ phrase }: Reading, before: readonly NoteReading[], own: readonly NoteReading[]): boolean {
  const isNear = (one: NoteReading, other: NoteReading): boolean =>
    Math.abs(phrase.notes[one.note]!.midi - phrase.notes[other.note]!.midi) <= STEP;
  return own.every((note) => before.some((one) => isNear(one, note)));
}

/** As many over each chord, but that the last may have one of two. */
function voicesOf(reading: Reading, chords: readonly (readonly NoteReading[])[]): GuideTones['voices'] {
  const { notes } = reading.phrase;
  const pitches = chords.map((own) => new Set(own.map(({ note }) => notes[note]!.midi)).size);
  const count = pitches[0]!;
  const isEven = pitches.every((size, i) => size === count || (i === chords.length - 1 && size < count));
  if (count > 2 || !isEven || !chords.slice(1).every((own, i) => isLed(reading, chords[i]!, own))) return [];
  const starts = chords[0]!.filter(({ note }, i, all) => all.findIndex((one) => notes[one.note]!.midi === notes[note]!.midi) === i);
  return starts.map((start) => {
    const voice: number[] = [];
    let height = notes[start.note]!.midi;
    for (const own of chords) {
      const led = own.filter(({ note }) => Math.abs(notes[note]!.midi - height) <= STEP).map(({ note }) => note);
      if (led.length === 0) break;
      voice.push(...led);
      height = notes[led[led.length - 1]!]!.midi;
    }
    return voice;
  });
}
