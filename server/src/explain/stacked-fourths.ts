/** Fourths on top of each other: D-G-C, F-B-E. */
import type { Note } from '../model/types';
import { staffPlace } from '../theory/pitch';

const FEWEST = 3;
const PERFECT = 5;
const AUGMENTED = 6;
/** Letters of a fourth. */
const LETTERS = 3;

/** Whether notes, in their order, are three or more, each a fourth above the one before, or each below: one of the fourths may be augmented, by its letters too. */
export function areStackedFourths(notes: readonly Note[]): boolean {
  const sizes = notes.slice(1).map((note, i) => note.midi - notes[i]!.midi);
  const isAugmented = notes
    .slice(1)
    .map((note, i) => Math.abs(sizes[i]!) === AUGMENTED && Math.abs(staffPlace(note.pitch) - staffPlace(notes[i]!.pitch)) === LETTERS);
  return (
    notes.length >= FEWEST &&
    new Set(sizes.map((size) => Math.sign(size))).size === 1 &&
    isAugmented.filter((is) => is).length <= 1 &&
    sizes.every((size, i) => Math.abs(size) === PERFECT || isAugmented[i])
  );
}
