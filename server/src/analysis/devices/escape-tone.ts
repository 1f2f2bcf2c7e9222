import { isLeap, isStep, move } from '../vocabulary';
import type { Find } from './device';
import { after, before } from './study';

/** Reached by step, left by leap the other way, on a weaker place (OMT). */
export const escapeTone: Find = (study) =>
  study.events.flatMap((event) => {
    const previous = before(study, event);
    const next = after(study, event);
    if (event.basic || event.chord === null || previous === null || next === null || !isStep(previous, event) || !isLeap(event, next)) return [];
    if (Math.sign(move(previous, event)) === Math.sign(move(event, next)) || event.weight >= previous.weight) return [];
    return [{ notes: event.notes, target: null, detail: '' }];
  });
