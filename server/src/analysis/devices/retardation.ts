import type { Find } from './device';
import { keptNotes } from './kept';

/** Kept or struck again from the chord before, on a stronger place, then up by step (OMT). */
export const retardation: Find = (study) => keptNotes(study, 'up');
