/** Embellishments squeezed into one beat: what turn, mordent and triplet arpeggio share. */
import type { Event, Study } from './study';

/** So many events from the first on that together fill no more than its beat, starting on it; null where there are not. */
export function inOneBeat({ events, places }: Study, first: Event, count: number): Event[] | null {
  const run = events.slice(first.index, first.index + count);
  if (run.length < count || !places.isOnBeat(first.onset) || run.slice(1).some((event) => event.opens)) return null;
  const last = run[count - 1]!;
  return run.every((event) => event.notes.length === 1) && last.onset.sub(first.onset).compare(first.beat) < 0 ? run : null;
}
