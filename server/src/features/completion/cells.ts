/** Names of cells in a line, once one has begun. Notes are not offered: a list over every note would stand in the writer's way. */
import type { Snapshot } from '../../model/snapshot';
import { definitionText } from '../names';
import type { Proposal, RowBefore } from './completion';

/**
 * A capital letter, a digit and a weight begin a note, which must not turn into the name of a cell under the writer's hands; the
 * `b` of `b3` does so only where a cell's name begins with it.
 */
export function cellNames({ word }: RowBefore, snapshot: Snapshot): readonly Proposal[] {
  const begun = /^(?:(?:\d+:)?[/\\]?([a-z][A-Za-z0-9_]*))?$/.exec(word);
  if (begun === null) return [];
  return [...snapshot.definitions.cells.keys()]
    .filter((name) => name.startsWith(begun[1] ?? ''))
    .map((name) => ({
      label: name,
      kind: 'name',
      detail: definitionText(snapshot, { kind: 'cell', name })?.replace(/^cell\s+\S+\s*=\s*/, '') ?? '',
    }));
}
