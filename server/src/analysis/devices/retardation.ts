import type { Finder } from './device';
import { keptNotes } from './kept';

/** Kept or struck again from the chord before, on a stronger place, then up by step (OMT). */
export const retardation: Finder = {
  kinds: ['retardation'],
  layer: 'ornament',
  find: (study) => keptNotes(study, 'retardation'),
};
