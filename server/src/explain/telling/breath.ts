import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';

/** Whether a teacher breathes after a note: at the end, before a rest of a beat, after a note of two beats. */
export function breathAfter(reading: Reading, note: number): boolean {
  const { notes } = reading.phrase;
  const [own, next] = [notes[note]!, notes[note + 1]];
  if (next === undefined) return true;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  const end = own.onset.add(own.duration);
  return own.duration.compare(beat.mul(2)) >= 0 || next.onset.sub(end).compare(beat) >= 0;
}
