/** How wide and high words are in the lettering of the score, by a table made from its font (`client/font.mjs`): the same wherever a picture is drawn. */
import letters from './letters.json';

export type Weight = keyof typeof letters;

/** In parts of the size of the letters: the advance, and how far the ink goes above and below the line. */
export interface Extent {
  readonly width: number;
  readonly ascent: number;
  readonly descent: number;
}

/** The name of the font as pictures ask for it, with what stands in for it where it is missing. */
export const FONT = 'Phrasewright Score, DejaVu Sans Condensed, sans-serif';

/** A letter that the font has not is taken from another one: wide ones have about this. */
const UNKNOWN: readonly number[] = [1000, 900, 250];

const FACES: Readonly<Record<Weight, ReadonlyMap<string, readonly number[]>>> = {
  regular: new Map(Object.entries(letters.regular)),
  bold: new Map(Object.entries(letters.bold)),
};

export function measure(words: string, weight: Weight): Extent {
  let [width, ascent, descent] = [0, 0, 0];
  for (const letter of words) {
    const [advance = 0, above = 0, below = 0] = FACES[weight].get(letter) ?? UNKNOWN;
    width += advance;
    ascent = Math.max(ascent, above);
    descent = Math.max(descent, below);
  }
  return { width: width / 1000, ascent: ascent / 1000, descent: descent / 1000 };
}
