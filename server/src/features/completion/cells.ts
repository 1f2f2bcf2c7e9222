/** Names of cells in a line. Notes are not offered: a list over every note would stand in the writer's way. */
import type { Snapshot } from '../../model/snapshot';
import { definitionText } from '../names';
import type { Proposal, RowBefore } from './completion';

export function cellNames({ word }: RowBefore, snapshot: Snapshot): readonly Proposal[] {
  // A capital letter begins a pitch, which must not turn into the name of a cell under the writer's hands.
  if (!/^(?:\d+:)?[/\\]?(?:[a-z][A-Za-z0-9_]*)?$/.test(word)) return [];
  return [...snapshot.definitions.cells.keys()].map((name) => ({
    label: name, kind: 'name', detail: definitionText(snapshot, { kind: 'cell', name })?.replace(/^cell\s+\S+\s*=\s*/, '') ?? '',
  }));
}
