/** Bars that take up the rhythm of a bar before, with other notes: how a riff goes on over the next chord. */
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import type { Note } from '../../model/types';

const FEWEST = 3;

/** The number of the bar, one or two before, whose rhythm a bar takes up; null where there is none, or the rhythm is one that any line has. */
export function rhythmTakenUp(reading: Reading, bar: number): number | null {
  const own = rhythmOf(reading, bar);
  if (own === null) return null;
  return [bar - 1, bar - 2].find((of) => of > 0 && rhythmOf(reading, of) === own) ?? null;
}

/** Onsets and lengths in a bar as text; the last length is left open. Null where it is not marked by a syncopation or a rest in it. */
function rhythmOf({ phrase, context }: Reading, number: number): string | null {
  const bar = phrase.bars.find((one) => one.number === number);
  const notes = phrase.notes.filter((note) => note.bar === number);
  const places = placesOf(phrase, context);
  if (bar === undefined || notes.length < FEWEST) return null;
  const endOf = ({ onset, duration }: Note): Note['onset'] => onset.add(duration);
  const isMarked = notes.slice(1).some((note, i) => note.onset.compare(endOf(notes[i]!)) > 0 || (!places.isOnBeat(notes[i]!.onset) && notes[i]!.duration.compare(bar.meter.beat) >= 0));
  return isMarked ? notes.map((note, i) => `${note.onset.sub(bar.onset).toFraction()}:${i === notes.length - 1 ? '' : note.duration.toFraction()}`).join(' ') : null;
}
