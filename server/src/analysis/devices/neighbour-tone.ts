import { isStep, move } from '../vocabulary';
import type { Find } from './device';
import { after, before, inScale } from './study';

/** Left by step and returned to the same note; upper or lower (OMT). */
export const neighbourTone: Find = (study) =>
  study.events.flatMap((event) => {
    const previous = before(study, event);
    const next = after(study, event);
    if (
      event.basic ||
      event.chord === null ||
      previous === null ||
      next === null ||
      !isStep(previous, event) ||
      previous.midi !== next.midi
    )
      return [];
    const colour = inScale(event.scale, event) ? 'diatonic' : 'chromatic';
    return [{ notes: event.notes, target: next.notes[0]!, detail: `${move(previous, event) > 0 ? 'upper' : 'lower'}, ${colour}` }];
  });
