import type { Finder } from './device';
import { after, before, isChordTone, isReachedByLeap, isStep, move } from './study';

/** Reached by leap, left by step the other way, on a stronger place (OMT). */
export const appoggiatura: Finder = {
  kinds: ['appoggiatura'],
  layer: 'ornament',
  find: (study) =>
    study.events.flatMap((event) => {
      const next = after(study, event);
      if (event.basic || event.chord === null || next === null || !isReachedByLeap(study, event) || !isStep(event, next) || !isChordTone(next)) return [];
      const previous = before(study, event);
      const turns = previous === null || Math.sign(move(previous, event)) !== Math.sign(move(event, next));
      if (!turns || event.weight <= next.weight) return [];
      return [{ kind: 'appoggiatura', notes: event.notes, target: next.notes[0]!, detail: move(event, next) < 0 ? 'from above' : 'from below' }];
    }),
};
