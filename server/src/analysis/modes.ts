/** Modes: by which notes a line tells them, and which note colours them (common practice). Notes are half steps above the root, 0 to 11. */
import type { ScaleName } from '../theory/types';

/** The mode that each usual scale of a chord is heard as, the notes that tell it, and those that would deny it. */
const HEARD: Partial<Record<ScaleName, { readonly mode: ScaleName; readonly has: readonly number[]; readonly lacks: readonly number[] }>> =
  {
    dorian: { mode: 'dorian', has: [9], lacks: [8] },
    ionian: { mode: 'lydian', has: [6], lacks: [5] },
    mixolydian: { mode: 'mixolydian', has: [2, 4, 9, 10], lacks: [1, 3, 6, 8, 11] },
  };

/** The mode that the notes of a vamp tell; null where they tell none. `usual` is the scale that its chord takes without them. */
export function heardMode(above: readonly (number | null)[], usual: ScaleName): ScaleName | null {
  const heard = HEARD[usual];
  const isHeard = heard !== undefined && heard.has.every((one) => above.includes(one)) && !heard.lacks.some((one) => above.includes(one));
  return isHeard ? heard.mode : null;
}

export interface Colour {
  readonly above: number;
  /** In words: `sharp eleven`. */
  readonly degree: string;
}

const COLOURS: Partial<Record<ScaleName, Colour>> = {
  dorian: { above: 9, degree: 'sixth' },
  lydian: { above: 6, degree: 'sharp eleven' },
  mixolydian: { above: 10, degree: 'flat seventh' },
  phrygian: { above: 1, degree: 'flat nine' },
};

/** The note that tells a mode from its neighbours; null for a scale that has none. */
export function colourOf(mode: ScaleName): Colour | null {
  return COLOURS[mode] ?? null;
}
