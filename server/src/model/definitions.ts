/** The `changes` and `cell` definitions of a file, and what is wrong among them. */
import type { CellItem, ChangesItem, Item, PlacedSlice, Problem } from '../../../grammar/tree';
import type { Definitions, PlacedProblem } from './types';

/** All definitions by name; of several with one name the first counts, the others are errors. */
export function collectDefinitions(slices: readonly PlacedSlice[]): { definitions: Definitions; problems: PlacedProblem[] } {
  const changes = new Map<string, ChangesItem>();
  const cells = new Map<string, CellItem>();
  const problems: PlacedProblem[] = [];
  for (const { start, parsed } of slices) {
    for (const item of definingItems(parsed.item)) {
      if (item.name === null) continue;
      const set: Map<string, ChangesItem | CellItem> = item.kind === 'changes' ? changes : cells;
      if (set.has(item.name.text)) problems.push({ start, problem: duplicate(item) });
      else set.set(item.name.text, item);
    }
  }
  return { definitions: { changes, cells }, problems };
}

function definingItems(item: Item): readonly (ChangesItem | CellItem)[] {
  if (item.kind === 'changes' || item.kind === 'cell') return [item];
  return item.kind === 'phrase' ? item.nested : [];
}

function duplicate(item: ChangesItem | CellItem): Problem {
  const name = item.name!;
  return {
    rule: 'duplicate-definition',
    severity: 'error',
    range: name.range,
    facts: { kind: item.kind, name: name.text },
    fixes: [],
    related: [],
  };
}
