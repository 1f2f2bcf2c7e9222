/** The names a writer gives to changes and cells: where each is defined, and where it is used. Offsets in the file. */
import type { ChangesItem, CellItem, Group, Item, PlacedSlice, Word } from '../../../grammar/tree';
import type { Snapshot } from '../model/snapshot';

export type NameKind = 'changes' | 'cell';

/** One place where a name stands. */
export interface NamePlace {
  readonly kind: NameKind;
  readonly name: string;
  readonly start: number;
  readonly end: number;
  /** Its definition, rather than a use. */
  readonly defines: boolean;
}

/** The name that stands at an offset (touching its end counts); null where none does. */
export function nameAt({ slices }: Snapshot, offset: number): NamePlace | null {
  const near = slices.filter(({ start, parsed }) => start <= offset && offset <= start + parsed.text.length);
  return near.flatMap(namesIn).find(({ start, end }) => start <= offset && offset <= end) ?? null;
}

/** Every place of a name, in the order of the text. Changes and cells are separate sets. */
export function placesOfName({ slices }: Snapshot, { kind, name }: Pick<NamePlace, 'kind' | 'name'>): readonly NamePlace[] {
  return slices.flatMap(namesIn).filter((place) => place.kind === kind && place.name === name);
}

/** The definition of a name with its text, comments left out; null where nothing defines it. Of two the first counts. */
export function definitionText({ slices }: Snapshot, { kind, name }: Pick<NamePlace, 'kind' | 'name'>): string | null {
  for (const { parsed } of slices) {
    const item = definitionsIn(parsed.item).find((one) => one.kind === kind && one.name?.text === name);
    if (item === undefined) continue;
    const { text } = parsed;
    return item.comments
      .filter(({ range }) => range.start >= item.keyword.range.start && range.end <= item.range.end)
      .reduceRight(
        (rest, { range }) => rest.slice(0, range.start - item.keyword.range.start) + rest.slice(range.end - item.keyword.range.start),
        text.slice(item.keyword.range.start, item.range.end),
      )
      .replace(/\s+/g, ' ')
      .trim();
  }
  return null;
}

function definitionsIn(item: Item): readonly (ChangesItem | CellItem)[] {
  if (item.kind === 'changes' || item.kind === 'cell') return [item];
  return item.kind === 'phrase' ? item.nested : [];
}

function namesIn({ start, parsed: { item } }: PlacedSlice): NamePlace[] {
  const place = (kind: NameKind, word: Word, defines: boolean): NamePlace => ({
    kind,
    name: word.text,
    start: start + word.range.start,
    end: start + word.range.end,
    defines,
  });
  const cellUses = (groups: readonly Group[]): NamePlace[] =>
    groups.flatMap((group) => (group.kind === 'cell' ? [place('cell', group.name, false)] : []));
  const found = definitionsIn(item).flatMap((one) => [
    ...(one.name === null ? [] : [place(one.kind, one.name, true)]),
    ...(one.kind === 'cell' ? cellUses(one.groups) : []),
  ]);
  if (item.kind === 'phrase') {
    for (const row of item.rows) {
      if (row.kind === 'over' && row.changes !== null) found.push(place('changes', row.changes, false));
      if (row.kind === 'line') found.push(...row.bars.flatMap((bar) => cellUses(bar.groups)));
    }
  }
  return found.sort((a, b) => a.start - b.start);
}
