import type { Finder, Match } from './device';
import { arpeggiates } from './arpeggio';
import { isStep, move, type Event, type Study } from './study';

/** Embellishments squeezed into one beat: turn, mordent, and the chord's arpeggio as a triplet (common practice). */
export const squeezed: Finder = {
  kinds: ['turn', 'mordent', 'triplet-arpeggio'],
  layer: 'figure',
  find: (study) => study.events.flatMap((first) => [...turn(study, first), ...mordent(study, first), ...tripletArpeggio(study, first)]),
};

/** So many events from the first on that together fill no more than its beat, starting on it; null where there are not. */
function inOneBeat({ events, places }: Study, first: Event, count: number): Event[] | null {
  const run = events.slice(first.index, first.index + count);
  if (run.length < count || !places.isOnBeat(first.onset) || run.slice(1).some((event) => event.opens)) return null;
  const last = run[count - 1]!;
  return run.every((event) => event.notes.length === 1) && last.onset.sub(first.onset).compare(first.beat) < 0 ? run : null;
}

function made(kind: 'turn' | 'mordent' | 'triplet-arpeggio', run: readonly Event[], detail: string): Match[] {
  return [{ kind, notes: run.flatMap((event) => event.notes), target: null, detail }];
}

/** Upper neighbour, main note, lower neighbour, main note, or the other way round. */
function turn(study: Study, first: Event): Match[] {
  const run = inOneBeat(study, first, 4);
  if (run === null) return [];
  const [a, main, b, again] = run as [Event, Event, Event, Event];
  const wraps = isStep(a, main) && isStep(main, b) && Math.sign(move(main, a)) !== Math.sign(move(main, b));
  return wraps && main.midi === again.midi ? made('turn', run, move(main, a) > 0 ? 'from above' : 'from below') : [];
}

/** Main note, neighbour, main note, quick. */
function mordent(study: Study, first: Event): Match[] {
  const run = inOneBeat(study, first, 3);
  if (run === null) return [];
  const [main, neighbour, again] = run as [Event, Event, Event];
  const quick = neighbour.end.sub(neighbour.onset).mul(3).compare(first.beat) <= 0;
  return quick && isStep(main, neighbour) && main.midi === again.midi ? made('mordent', run, move(main, neighbour) > 0 ? 'upper' : 'lower') : [];
}

function tripletArpeggio(study: Study, first: Event): Match[] {
  const run = inOneBeat(study, first, 3);
  if (run === null) return [];
  const third = first.beat.div(3);
  const even = run.every((event) => event.end.sub(event.onset).compare(third) === 0);
  const [a, b, c] = run as [Event, Event, Event];
  return even && arpeggiates(a, b, [a]) && arpeggiates(b, c, [a, b]) ? made('triplet-arpeggio', run, move(a, b) > 0 ? 'rising' : 'falling') : [];
}
