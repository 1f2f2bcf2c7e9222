import type { Find } from './device';
import { keptNotes } from './kept';

/** Kept or struck again from the chord before, on a stronger place, then down by step (OMT); the 4 of a sus chord to the 3 of the same root. */
export const suspension: Find = (study) => keptNotes(study, 'down');
