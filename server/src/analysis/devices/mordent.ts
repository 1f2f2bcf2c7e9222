import { isStep, move } from '../vocabulary';
import type { Find, Found } from './device';
import { inOneBeat } from './in-one-beat';
import type { Event, Study } from './study';

/** A mordent in one beat (common practice). */
export const mordent: Find = (study) => study.events.flatMap((first) => mordentFrom(study, first));

/** Main note, neighbour, main note, quick. */
function mordentFrom(study: Study, first: Event): Found[] {
  const run = inOneBeat(study, first, 3);
  if (run === null) return [];
  const [main, neighbour, again] = run as [Event, Event, Event];
  // An eighth of 6/8 is a third of its beat, and not quick.
  const most = study.places.barAt(first.onset).meter.compound ? first.beat.div(6) : first.beat.div(3);
  const quick = neighbour.end.sub(neighbour.onset).compare(most) <= 0;
  return quick && isStep(main, neighbour) && main.midi === again.midi
    ? [{ notes: run.flatMap((event) => event.notes), target: null, detail: move(main, neighbour) > 0 ? 'upper' : 'lower' }]
    : [];
}
