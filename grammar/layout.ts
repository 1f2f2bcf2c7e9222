/** Where things stand in columns: rows of a system side by side, each thing at the column of its time. */

/** A thing in a bar: its text, and when it comes (0 is the bar line; only the order and equality of times matter). */
export interface Placed {
  readonly at: number;
  readonly text: string;
}

/** A row's bars on one line of text; `first` is the number of its first bar in the system, -1 for a pickup. */
export interface RowLine {
  readonly first: number;
  readonly bars: readonly RowBar[];
}
export interface RowBar {
  readonly things: readonly Placed[];
  /** `|` or `||`, or nothing where the bar is closed by the next line's bar line. */
  readonly close: string;
}

/**
 * Lays out lines that start at the same place, so that bar lines and times align. A line with a pickup has it before the first
 * bar line; the others are indented by its width.
 */
export function alignRows(rows: readonly RowLine[]): string[] {
  const first = Math.min(...rows.map((row) => row.first));
  const last = Math.max(...rows.map((row) => row.first + row.bars.length));
  const texts = rows.map(() => '');
  for (let number = first; number < last; number += 1) {
    const present = rows.map((row, i) => ({ i, bar: row.bars[number - row.first] })).filter((one): one is { i: number; bar: RowBar } => one.bar !== undefined);
    const { columns, width } = barColumns(present.map(({ bar }) => bar.things));
    if (number < 0) {
      rows.forEach((_, i) => {
        const bar = present.find((one) => one.i === i)?.bar;
        texts[i] += (bar === undefined ? '' : writeThings(bar.things, columns)).padEnd(width + 1);
        // A pickup with nothing after it keeps the bar line that makes it one.
        if (bar !== undefined && rows[i]!.bars.length === 1) texts[i] += bar.close;
      });
      continue;
    }
    for (const { i, bar } of present) {
      // Only the end of the text is looked at: a row may be long, and each bar adds to it.
      const opening = texts[i]!.slice(-2).trimEnd().endsWith('|') ? '' : '|';
      texts[i] += `${opening} ${writeThings(bar.things, columns).padEnd(width)} ${bar.close}`;
    }
  }
  return texts.map((text) => text.trimEnd());
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
