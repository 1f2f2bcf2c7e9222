import { isLeap, isStep, move } from '../vocabulary';
import type { Find } from './device';
import { guideToneResolution } from './guide-tone-resolution';
import { after, before } from './study';
import { tensionResolution } from './tension-resolution';

/** Reached by step, left by leap the other way, on a weaker place, and resolved by nothing that follows (OMT). */
export const escapeTone: Find = (study) => {
  const resolved = new Set([...guideToneResolution(study), ...tensionResolution(study)].flatMap(({ notes }) => notes));
  return study.events.flatMap((event) => {
    const previous = before(study, event);
    const next = after(study, event);
    if (event.basic || event.chord === null || previous === null || next === null || !isStep(previous, event) || !isLeap(event, next))
      return [];
    if (
      Math.sign(move(previous, event)) === Math.sign(move(event, next)) ||
      event.weight >= previous.weight ||
      event.notes.some((note) => resolved.has(note))
    )
      return [];
    return [{ notes: event.notes, target: null, detail: '' }];
  });
};
