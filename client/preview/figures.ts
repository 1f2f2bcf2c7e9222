/** The row of figures under a system: digits stand under their heads, and where it is crowded they are smaller, then staggered. */

/** A figure's parts, wide in parts of the size of its letters: what hangs to the left, the digits under the head, what hangs to the right. */
export interface PlacedFigure {
  readonly x: number;
  readonly before: number;
  readonly digits: number;
  readonly after: number;
}

export interface FigurePlace {
  readonly left: number;
  readonly size: number;
  /** Half a line below the others. */
  readonly isLowered: boolean;
}

/** Part of the size: figures are made no smaller than that. */
export const CROWDED = 0.72;

/** `b13` in its parts; a figure in parentheses keeps them outside. */
export function figureParts(figure: string): { readonly before: string; readonly digits: string; readonly after: string } {
  const [, before, digits, after] = /^(\D*)(.*?)(\D*)$/.exec(figure)!;
  return { before: before!, digits: digits!, after: after! };
}

/** Places figures from left to right; `gap` is the least room between two on one line. */
export function figureRow(figures: readonly PlacedFigure[], size: number, gap: number): FigurePlace[] {
  // How small two neighbours would have to be to stand side by side.
  const shares = figures.slice(1).map((figure, i) => {
    const before = figures[i]!;
    const wide = size * (before.digits / 2 + before.after + figure.digits / 2 + figure.before);
    return wide === 0 ? 1 : (figure.x - before.x - gap) / wide;
  });
  const sizes = figures.map((_, i) => size * Math.max(CROWDED, Math.min(1, shares[i - 1] ?? 1, shares[i] ?? 1)));
  const left = (i: number): number => figures[i]!.x - sizes[i]! * (figures[i]!.digits / 2 + figures[i]!.before);
  const right = (i: number): number => figures[i]!.x + sizes[i]! * (figures[i]!.digits / 2 + figures[i]!.after);
  // Rounding is no touching.
  const end = (i: number): number => (i < 0 ? -Infinity : right(i) + gap - 1);
  let [upper, lower] = [-1, -1];
  return figures.map((_, i) => {
    const isLowered = end(upper) > left(i) && end(lower) < end(upper);
    if (isLowered) lower = i;
    else upper = i;
    return { left: left(i), size: sizes[i]!, isLowered };
  });
}
