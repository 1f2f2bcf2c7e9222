import { move } from '../vocabulary';
import type { Find } from './device';
import { after, isReachedByLeap } from './study';

/** Two half steps in one direction into a chord tone, after a leap (Pease, list of approach notes; from memory). */
export const doubleChromatic: Find = (study) =>
  study.events.flatMap((first) => {
    const second = after(study, first);
    const target = second === null ? null : after(study, second);
    if (second === null || target === null || first.basic || second.basic || !target.basic) return [];
    const step = move(first, second);
    if (Math.abs(step) !== 1 || move(second, target) !== step || !isReachedByLeap(study, first)) return [];
    return [{ notes: [...first.notes, ...second.notes], target: target.notes[0]!, detail: step > 0 ? 'from below' : 'from above' }];
  });
