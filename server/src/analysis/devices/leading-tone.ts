import { fallsFifth } from '../harmonies';
import { isDominant, move } from '../vocabulary';
import type { Find } from './device';
import { aboveRoot } from './resolution';
import { after } from './study';

/** The 3 of a dominant, up to the root a fifth below, across the change (common practice). */
export const leadingTone: Find = (study) =>
  study.events.flatMap((event) => {
    const next = after(study, event);
    if (next === null || event.chord === null || next.chord === null || event.span === next.span || !isDominant(event.chord)) return [];
    const leads = aboveRoot(event) === 4 && aboveRoot(next) === 0 && move(event, next) === 1 && fallsFifth(event.chord, next.chord);
    return leads ? [{ notes: event.notes, target: next.notes[0]!, detail: '' }] : [];
  });
