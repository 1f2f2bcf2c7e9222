import type { Finder } from './device';
import { after, before, isStep, move } from './study';

/** Reached by step, left by leap the other way, on a weaker place (OMT). */
export const escapeTone: Finder = {
  kinds: ['escape-tone'],
  layer: 'ornament',
  find: (study) =>
    study.events.flatMap((event) => {
      const previous = before(study, event);
      const next = after(study, event);
      if (event.basic || event.chord === null || previous === null || next === null || !isStep(previous, event) || Math.abs(move(event, next)) <= 2) return [];
      if (Math.sign(move(previous, event)) === Math.sign(move(event, next)) || event.weight >= previous.weight) return [];
      return [{ kind: 'escape-tone', notes: event.notes, target: null, detail: '' }];
    }),
};
