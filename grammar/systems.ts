/** Which rows make a system, and what stands before the first bar line: what time and layout both go by. */
import { flatMap } from './flat-map';
import { rowWord } from './rows';
import type { CellItem, DegreesRow, Group, LineBar, LineRow, MeterRow, OverRow, Row } from './tree';

export type Meter = NonNullable<MeterRow['meter']>;
export type MusicRow = OverRow | LineRow | DegreesRow;

/** The rows of one system: at most one `over`, which comes first, its lines, and the figures under them. */
export interface SystemRows {
  readonly meter: Meter;
  readonly over: OverRow | null;
  readonly rows: readonly (LineRow | DegreesRow)[];
}

/** Whether a row is read between bar lines. */
export function isMusicRow(row: Row): row is MusicRow {
  const mode = rowWord(row.kind)?.mode;
  return mode === 'notes' || mode === 'chords';
}

const COMMON_TIME: Meter = { beats: 4, unit: 4 };

export function systemsOf(rows: readonly Row[]): readonly SystemRows[] {
  const systems: (SystemRows & { readonly rows: (LineRow | DegreesRow)[] })[] = [];
  let meter = COMMON_TIME;
  let changed = false;
  for (const row of rows) {
    if (row.kind === 'meter' && row.meter !== null) {
      meter = row.meter;
      changed = true;
    } else if (row.kind === 'over') {
      systems.push({ meter, over: row, rows: [] });
      changed = false;
    } else if (row.kind === 'line' || row.kind === 'degrees') {
      const current = systems[systems.length - 1];
      // A meter written between two lines of a system takes effect at the second, over the chord that goes on.
      if (current === undefined || (row.kind === 'line' && changed && current.rows.length > 0))
        systems.push({ meter, over: null, rows: [row] });
      else current.rows.push(row);
      if (row.kind === 'line') changed = false;
    }
  }
  return systems;
}

/** A meter n/d by its numbers. */
interface Timing {
  readonly beats: number;
  readonly unit: number;
}

/** Whether the beats of a meter are dotted: d is 8 or 16, and n a multiple of 3 above 3. */
export function isCompound({ beats, unit }: Timing): boolean {
  return (unit === 8 || unit === 16) && beats > 3 && beats % 3 === 0;
}

/** How many beats are felt in a bar: in a compound meter each is three units long. */
export function beatCount(meter: Timing): number {
  return isCompound(meter) ? meter.beats / 3 : meter.beats;
}

/** How many beats a group asks for: its weight, times those of its cell; a cell that is not defined counts as one. */
export function groupBeats(group: Group, cellNamed: (name: string) => CellItem | undefined): number {
  const weight = group.weight?.beats ?? 1;
  if (group.kind === 'slots') return weight;
  const cell = cellNamed(group.name.text);
  return weight * (cell === undefined ? 1 : cell.groups.reduce((sum, one) => sum + (one.weight?.beats ?? 1), 0));
}

/** How many beats the groups of a bar ask for. */
export function barBeats({ groups }: LineBar, cellNamed: (name: string) => CellItem | undefined): number {
  return groups.reduce((sum, group) => sum + groupBeats(group, cellNamed), 0);
}

/**
 * What the first bar of a phrase's first line is. `open`: nothing stands before its bar line; `pickup`: what stands before a bar line
 * leads into it; `bar`: it is as long as a bar, so it is one, and its bar line is missing.
 */
export function firstBarIs(bar: LineBar, meter: Meter, cellNamed: (name: string) => CellItem | undefined): 'open' | 'pickup' | 'bar' {
  if (bar.open !== null || bar.close === null || bar.groups.length === 0) return 'open';
  return barBeats(bar, cellNamed) >= beatCount(meter) ? 'bar' : 'pickup';
}

/** The bars of a system's lines without the pickup, which only the first line of the phrase has. */
export function wholeBars(
  { meter, rows }: SystemRows,
  firstLine: Row | undefined,
  cellNamed: (name: string) => CellItem | undefined,
): readonly LineBar[] {
  const lines = rows.filter((row): row is LineRow => row.kind === 'line');
  return flatMap(lines, (row) =>
    row === firstLine && row.bars[0] !== undefined && firstBarIs(row.bars[0], meter, cellNamed) === 'pickup' ? row.bars.slice(1) : row.bars,
  );
}
