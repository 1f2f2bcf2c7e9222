import { move } from '../vocabulary';
import { arpeggiates } from './arpeggio';
import type { Find, Found } from './device';
import { inOneBeat } from './in-one-beat';
import type { Event, Study } from './study';

/** The chord's arpeggio as a triplet in one beat (common practice). */
export const tripletArpeggio: Find = (study) => study.events.flatMap((first) => tripletFrom(study, first));

function tripletFrom(study: Study, first: Event): Found[] {
  const run = inOneBeat(study, first, 3);
  if (run === null) return [];
  // Three eighths are what a beat of 6/8 holds anyway: there a triplet fills one of them.
  const third = study.places.barAt(first.onset).meter.compound ? first.beat.div(9) : first.beat.div(3);
  const even = run.every((event) => event.end.sub(event.onset).equals(third));
  const [a, b, c] = run as [Event, Event, Event];
  return even && arpeggiates(a, b, [a]) && arpeggiates(b, c, [a, b])
    ? [{ notes: run.flatMap((event) => event.notes), target: null, detail: move(a, b) > 0 ? 'rising' : 'falling' }]
    : [];
}
