/** How wide a figure above a note may be. Widths are in columns of the editor's text. */

/** The size of a figure's letters beside those of the text. */
export const FIGURE_SIZE = 0.64;

/** Figures that stand nearer are read as one: `b7` and `b13` as “b7b13”. */
const GAP = 0.4;

/**
 * What is left of a figure's width where it begins so many columns before the next one in its line: 1 where there is room for all of it, rounded
 * down to hundredths. Infinity columns: none follows.
 */
export function widthLeft(figure: string, columns: number): number {
  return Math.max(0, Math.min(1, Math.floor((100 * (columns - GAP)) / (FIGURE_SIZE * figure.length)) / 100));
}

/** Where the note begins in its line that ends at a column: behind what parts it from others, and its direction and parenthesis. */
export function noteStart(line: string, end: number): number {
  return Math.min(Math.max(0, end - 1), /[^\s|:\u2010-\u2013\u2212\-(/\\]*$/.exec(line.slice(0, end))!.index);
}
