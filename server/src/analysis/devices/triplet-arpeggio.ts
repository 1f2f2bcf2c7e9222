import { arpeggiates } from './arpeggio';
import type { Finder, Match } from './device';
import { inOneBeat } from './in-one-beat';
import { move, type Event, type Study } from './study';

/** The chord's arpeggio as a triplet in one beat (common practice). */
export const tripletArpeggio: Finder = {
  kinds: ['triplet-arpeggio'],
  layer: 'figure',
  find: (study) => study.events.flatMap((first) => tripletFrom(study, first)),
};

function tripletFrom(study: Study, first: Event): Match[] {
  const run = inOneBeat(study, first, 3);
  if (run === null) return [];
  const third = first.beat.div(3);
  const even = run.every((event) => event.end.sub(event.onset).compare(third) === 0);
  const [a, b, c] = run as [Event, Event, Event];
  return even && arpeggiates(a, b, [a]) && arpeggiates(b, c, [a, b]) ? [{ kind: 'triplet-arpeggio', notes: run.flatMap((event) => event.notes), target: null, detail: move(a, b) > 0 ? 'rising' : 'falling' }] : [];
}
