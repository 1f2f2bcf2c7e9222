import { move } from '../vocabulary';
import type { Find } from './device';
import { inScale, stepAfterLeap } from './study';

/** One note by step into a chord tone after a leap, on a weaker place (common practice). */
export const approach: Find = (study) =>
  study.events.flatMap((event) => {
    const next = stepAfterLeap(study, event);
    if (next === null || event.weight >= next.weight) return [];
    const colour = inScale(event.scale, event) ? 'diatonic' : 'chromatic';
    return [{ notes: event.notes, target: next.notes[0]!, detail: `${colour}, ${move(event, next) < 0 ? 'from above' : 'from below'}` }];
  });
