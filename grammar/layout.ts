/** Where things stand in columns: rows of a system side by side, each thing at the column of its time. */

/** A thing in a bar: its text, and when it comes (0 is the bar line; only the order and equality of times matter). */
export interface Placed {
  readonly at: number;
  readonly text: string;
}

/** A row's bars on one line of text; `first` is the number of its first bar in the system, `PICKUP` for a pickup. */
export interface RowLine {
  readonly first: number;
  readonly bars: readonly RowBar[];
}
export interface RowBar {
  readonly things: readonly Placed[];
  /** `|` or `||`. */
  readonly close: string;
}

/** The number of the bar that a pickup is. */
export const PICKUP = -1;

/**
 * Lays out the lines of a system so that the bar lines of each bar, and the times in it, stand in the same columns. A pickup stands
 * before the first bar line, and lines without one are indented by its width. Where every line ends at the same bar, the next ones
 * start at the margin again, with bars as wide as those above; a line that starts later than others is indented to its bar.
 */
export function alignRows(rows: readonly RowLine[]): string[] {
  const starts = blockStarts(rows);
  const startOf = (bar: number): number => starts.findLast((start) => start <= bar) ?? 0;
  const times = new Map(barNumbers(rows).map((number) => [number, barColumns(barsAt(rows, number).map(({ things }) => things))]));
  const grid = gridOf(rows, startOf, times);
  return rows.map((row) => {
    const start = startOf(Math.max(0, row.first));
    let text = '';
    row.bars.forEach((bar, i) => {
      const { open, content, end } = grid.get(place(row.first + i, start))!;
      if (i === 0 && row.first !== PICKUP) text = `${''.padEnd(open)}|`;
      text = text.padEnd(content) + writeThings(bar.things, times.get(row.first + i)!.columns);
      text = text.padEnd(end) + bar.close;
    });
    return text;
  });
}

function barNumbers(rows: readonly RowLine[]): number[] {
  return [...new Set(rows.flatMap(({ first, bars }) => bars.map((_, i) => first + i)))].sort((a, b) => a - b);
}

function barsAt(rows: readonly RowLine[], number: number): RowBar[] {
  return rows.flatMap(({ first, bars }) => bars[number - first] ?? []);
}

/** The bars at which lines start while none goes on across: there the page turns back to the margin. */
function blockStarts(rows: readonly RowLine[]): number[] {
  const starts = [...new Set(rows.map(({ first }) => Math.max(0, first)))].sort((a, b) => a - b);
  const reached = new Map<number, number>();
  for (const { first, bars } of rows) reached.set(Math.max(0, first), Math.max(reached.get(Math.max(0, first)) ?? 0, first + bars.length));
  let end = 0;
  return starts.filter((start) => {
    const isFree = start >= end;
    end = Math.max(end, reached.get(start)!);
    return isFree;
  });
}

/** The place of a bar on the page: from 0 at the margin, before it the pickup. */
function place(bar: number, start: number): number {
  return bar === PICKUP ? PICKUP : bar - start;
}

/** The columns of a place: its bar line, what follows it, and the bar line after that. */
interface Measure {
  readonly open: number;
  readonly content: number;
  readonly end: number;
}

function gridOf(
  rows: readonly RowLine[],
  startOf: (bar: number) => number,
  times: ReadonlyMap<number, { readonly width: number }>,
): ReadonlyMap<number, Measure> {
  const widths = new Map<number, number>();
  const closes = new Map<number, number>();
  const widen = (map: Map<number, number>, at: number, width: number): void => void map.set(at, Math.max(map.get(at) ?? 0, width));
  for (const { first, bars } of rows) {
    bars.forEach(({ close }, i) => {
      const at = place(first + i, startOf(Math.max(0, first)));
      widen(widths, at, times.get(first + i)!.width);
      if (i < bars.length - 1) widen(closes, at, close.length);
    });
  }
  const grid = new Map<number, Measure>();
  let open = 0;
  for (let at = widths.has(PICKUP) ? PICKUP : 0; at <= Math.max(...widths.keys()); at += 1) {
    // A double bar line within one row moves what follows it in all.
    const content = at === PICKUP ? 0 : open + Math.max(1, closes.get(at - 1) ?? 1) + 1;
    const end = content + (widths.get(at) ?? 0) + 1;
    grid.set(at, { open, content, end });
    open = end;
  }
  return grid;
}

/** The column of each time: as far left as every row allows, one space between neighbours. */
function barColumns(rows: readonly (readonly Placed[])[]): { columns: ReadonlyMap<number, number>; width: number } {
  const times = [...new Set(rows.flatMap((row) => row.map((thing) => thing.at)))].sort((a, b) => a - b);
  const columns = new Map<number, number>();
  const filled = rows.map(() => 0);
  const next = rows.map(() => 0);
  let least = 0;
  for (const time of times) {
    const here = rows.map((row, i) => row[next[i]!]).map((thing) => (thing?.at === time ? thing : undefined));
    const column = Math.max(least, ...here.map((thing, i) => (thing === undefined ? 0 : filled[i]!)));
    columns.set(time, column);
    here.forEach((thing, i) => {
      if (thing === undefined) return;
      filled[i] = column + thing.text.length + 1;
      next[i] = next[i]! + 1;
    });
    least = column + 1;
  }
  return { columns, width: Math.max(0, ...filled.map((end) => end - 1)) };
}

function writeThings(things: readonly Placed[], columns: ReadonlyMap<number, number>): string {
  let text = '';
  for (const thing of things) text = `${text.padEnd(columns.get(thing.at) ?? text.length + 1)}${thing.text}`;
  return text;
}
