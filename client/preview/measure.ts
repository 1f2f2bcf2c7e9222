/** How wide and high words are in the page's own font, without laying out the page. */

import type { Extent } from './symbols';

export type Measure = (words: string, weight: 400 | 600) => Extent;

const SIZE = 100;

/** Measures with the font of an element as it is now: a theme may bring another. */
export function measurer(element: Element): Measure {
  const family = getComputedStyle(element).fontFamily || 'sans-serif';
  const kept = known.get(family) ?? new Map<string, Extent>();
  known.set(family, kept);
  return (words, weight) => {
    const key = `${weight} ${words}`;
    const extent = kept.get(key) ?? measured(words, `${weight} ${SIZE}px ${family}`);
    if (kept.size > MOST_KEPT) kept.clear();
    kept.set(key, extent);
    return extent;
  };
}

/** Names and figures come again and again; to measure is slower than all else here. */
const known = new Map<string, Map<string, Extent>>();
const MOST_KEPT = 2000;
let context: CanvasRenderingContext2D | null | undefined;

function measured(words: string, font: string): Extent {
  context ??= document.createElement('canvas').getContext('2d');
  if (context === null) return { width: words.length * 0.62, ascent: 0.76, descent: 0.22 };
  context.font = font;
  const { width, actualBoundingBoxAscent, actualBoundingBoxDescent } = context.measureText(words);
  return { width: width / SIZE, ascent: actualBoundingBoxAscent / SIZE, descent: Math.max(0, actualBoundingBoxDescent / SIZE) };
}
