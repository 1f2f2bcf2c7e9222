import { move } from '../vocabulary';
import type { Find } from './device';
import { before, stepAfterLeap } from './study';

/** Reached by leap, left by step the other way, on a stronger place (OMT). Not in a pickup: no chord sounds yet that it could lean on. */
export const appoggiatura: Find = (study) =>
  study.events.flatMap((event) => {
    const next = event.read.pickup ? null : stepAfterLeap(study, event);
    if (next === null) return [];
    const previous = before(study, event);
    const turns = previous === null || Math.sign(move(previous, event)) !== Math.sign(move(event, next));
    if (!turns || event.weight <= next.weight) return [];
    return [{ notes: event.notes, target: next.notes[0]!, detail: move(event, next) < 0 ? 'from above' : 'from below' }];
  });
