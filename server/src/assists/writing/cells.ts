/** Cells written out: the groups of a cell in place of its name. */
import type { Group, TextEdit } from '../../../../grammar/tree';
import type { Phrase } from '../../model/types';
import type { Snapshot } from '../../model/snapshot';
import { lineRows } from './whole-phrase';

export interface CellText {
  readonly name: string;
  readonly text: string;
  /** A cell of degrees fits every chord; one with a pitch belongs to its place. */
  readonly hasPitch: boolean;
}

/** A cell's groups as its definition writes them; null where there is no such cell, or it cannot be read. */
export function cellText({ slices, definitions }: Snapshot, name: string): CellText | null {
  const item = definitions.cells.get(name);
  if (item === undefined || item.groups.length === 0) return null;
  const slice = slices.find(({ parsed }) => parsed.item === item || (parsed.item.kind === 'phrase' && parsed.item.nested.includes(item)));
  if (slice === undefined || item.groups.some((group) => group.kind === 'cell' || group.slots.some((slot) => slot.kind === 'bad')))
    return null;
  const range = { start: item.groups[0]!.range.start, end: item.groups[item.groups.length - 1]!.range.end };
  const hasPitch = item.groups.some(
    (group) => group.kind === 'slots' && group.slots.some((slot) => slot.kind === 'note' && slot.head.kind === 'pitch'),
  );
  return { name, text: slice.parsed.text.slice(range.start, range.end), hasPitch };
}

/** The edit that writes out one use of a cell; null where it carries a sign or a weight that its groups would each need. */
export function writtenOut(snapshot: Snapshot, group: Group): TextEdit | null {
  if (group.kind !== 'cell' || group.weight !== null) return null;
  const cell = cellText(snapshot, group.name.text);
  if (cell === null) return null;
  const sign = group.direction === 'up' ? '/' : group.direction === 'down' ? '\\' : '';
  const bare = cell.text.replace(/\s+/g, ' ');
  return { range: group.range, text: sign + (sign === '' ? bare : bare.replace(/^[/\\]/, '')) };
}

/** The edits that write out every cell of a phrase that holds a pitch; null where one cannot be. */
export function pitchedCellsWrittenOut(snapshot: Snapshot, phrase: Phrase): TextEdit[] | null {
  const uses = lineRows(phrase)
    .flatMap((row) => row.bars.flatMap((bar) => bar.groups))
    .filter((group) => group.kind === 'cell');
  const pitched = uses.filter((group) => group.kind === 'cell' && cellText(snapshot, group.name.text)?.hasPitch === true);
  const edits = pitched.map((group) => writtenOut(snapshot, group));
  return edits.some((edit) => edit === null) ? null : (edits as TextEdit[]);
}
