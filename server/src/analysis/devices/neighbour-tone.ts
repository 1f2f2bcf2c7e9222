import type { Finder } from './device';
import { after, before, inScale, isStep, move } from './study';

/** Left by step and returned to the same note; upper or lower (OMT). */
export const neighbourTone: Finder = {
  kinds: ['neighbour-tone'],
  layer: 'ornament',
  find: (study) =>
    study.events.flatMap((event) => {
      const previous = before(study, event);
      const next = after(study, event);
      if (event.basic || event.chord === null || previous === null || next === null || !isStep(previous, event) || previous.midi !== next.midi) return [];
      const colour = inScale(event.scale, event) ? 'diatonic' : 'chromatic';
      return [{ kind: 'neighbour-tone', notes: event.notes, target: next.notes[0]!, detail: `${move(previous, event) > 0 ? 'upper' : 'lower'}, ${colour}` }];
    }),
};
