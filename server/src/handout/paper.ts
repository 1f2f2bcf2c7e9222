/** Sheets of paper; lengths in points of 1/72 inch. */
import type { HandoutOptions } from './types';

export interface Paper {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  /** The room for text and systems, between the margins. */
  readonly textWidth: number;
  /** How wide a system is engraved (CSS pixels of the score) to fill the text's width with a staff 7.2 mm high, as printed parts have. */
  readonly engravedWidth: number;
  /** For a style sheet. */
  readonly name: string;
}

const MARGIN = (15 / 25.4) * 72;
/** At that many pixels a point, four staff spaces are 7.2 mm. */
const PIXELS = 720 / ((180 / 25.4) * 72);

/** ISO 216 and ANSI A. */
export function paperOf(name: HandoutOptions['paper']): Paper {
  const [width, height] = name === 'a4' ? [595.28, 841.89] : [612, 792];
  const textWidth = width - 2 * MARGIN;
  return { width, height, margin: MARGIN, textWidth, engravedWidth: Math.round(textWidth * PIXELS), name: name === 'a4' ? 'A4' : 'letter' };
}
