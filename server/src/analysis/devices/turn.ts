import { isStep, move } from '../vocabulary';
import type { Find, Found } from './device';
import { inOneBeat } from './in-one-beat';
import type { Event, Study } from './study';

/** A turn in one beat (common practice). */
export const turn: Find = (study) => study.events.flatMap((first) => turnFrom(study, first));

/** Upper neighbour, main note, lower neighbour, main note, or the other way round. */
function turnFrom(study: Study, first: Event): Found[] {
  const run = inOneBeat(study, first, 4);
  if (run === null) return [];
  const [a, main, b, again] = run as [Event, Event, Event, Event];
  const wraps = isStep(a, main) && isStep(main, b) && Math.sign(move(main, a)) !== Math.sign(move(main, b));
  return wraps && main.midi === again.midi
    ? [{ notes: run.flatMap((event) => event.notes), target: null, detail: move(main, a) > 0 ? 'from above' : 'from below' }]
    : [];
}
