import { isStep, move } from '../vocabulary';
import type { Find } from './device';
import { after, inScale, isChordTone, isReachedByLeap } from './study';

/** One note by step into a chord tone after a leap, on a weaker place (common practice). */
export const approach: Find = (study) =>
  study.events.flatMap((event) => {
    const next = after(study, event);
    if (
      event.basic ||
      event.chord === null ||
      next === null ||
      !isReachedByLeap(study, event) ||
      !isStep(event, next) ||
      !isChordTone(next)
    )
      return [];
    if (event.weight >= next.weight) return [];
    const colour = inScale(event.scale, event) ? 'diatonic' : 'chromatic';
    return [{ notes: event.notes, target: next.notes[0]!, detail: `${colour}, ${move(event, next) < 0 ? 'from above' : 'from below'}` }];
  });
