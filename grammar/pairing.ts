/** Which `degrees` rows number which `line` rows. */

interface HasBars {
  readonly bars: readonly unknown[];
}

/**
 * For each row of figures, the rows of notes it belongs to (indexes, the last row of figures taking all that are left). Where
 * there are fewer rows of figures than of notes, they count from the first if their bars cover them all, else they belong to the
 * rows nearest above.
 */
export function pairedRows(lines: readonly HasBars[], figures: readonly HasBars[]): number[][] {
  const count = (rows: readonly HasBars[]): number => rows.reduce((sum, row) => sum + row.bars.length, 0);
  const skipped = count(figures) >= count(lines) ? 0 : Math.max(0, lines.length - figures.length);
  const rest = lines.map((_, i) => i).slice(skipped);
  return figures.map((_, i) => (i === figures.length - 1 ? rest.slice(i) : rest.slice(i, i + 1)));
}
