/** The row of figures under a system: digits stand under their heads, on one line; where it is crowded all of them are smaller. */

/** A figure's parts, wide in parts of the size of its letters: what hangs to the left, the digits under the head, what hangs to the right. */
export interface PlacedFigure {
  readonly x: number;
  readonly before: number;
  readonly digits: number;
  readonly after: number;
}

export interface FigureRow {
  /** Of the letters of all figures. */
  readonly size: number;
  /** Where each figure begins. */
  readonly lefts: readonly number[];
}

/** Part of the size: figures are made no smaller than that where the engraver can give them room. */
export const CROWDED = 0.72;

/** `b13` in its parts; a figure in parentheses keeps them outside. */
export function figureParts(figure: string): { readonly before: string; readonly digits: string; readonly after: string } {
  const [, before, digits, after] = /^(\D*)(.*?)(\D*)$/.exec(figure)!;
  return { before: before!, digits: digits!, after: after! };
}

/** Places figures from left to right, all of one size; `gap` is the least room between two. */
export function figureRow(figures: readonly PlacedFigure[], size: number, gap: number): FigureRow {
  const share = figures
    .slice(1)
    .reduce((least, figure, i) => Math.min(least, (figure.x - figures[i]!.x - gap) / (size * between(figures[i]!, figure))), 1);
  const fitting = size * Math.max(SMALLEST, share);
  return { size: fitting, lefts: figures.map(({ x, digits, before }) => x - fitting * (digits / 2 + before)) };
}

/** Part of the size: what is smaller is no letter any more. */
const SMALLEST = 0.3;

/** How far apart two neighbours would have their middles side by side, in parts of the size of their letters. */
export function between(left: Omit<PlacedFigure, 'x'>, right: Omit<PlacedFigure, 'x'>): number {
  return left.digits / 2 + left.after + right.digits / 2 + right.before;
}
