/** The outline of a document: the lesson, its definitions, its phrases and their rows of music. */
import type { Item, Range } from '../../../grammar/tree';
import type { Snapshot } from '../model/snapshot';

export interface Symbol {
  readonly name: string;
  readonly detail: string;
  readonly kind: 'lesson' | 'changes' | 'cell' | 'phrase' | 'row';
  readonly start: number;
  readonly end: number;
  /** The part to select. */
  readonly nameStart: number;
  readonly nameEnd: number;
  readonly children: readonly Symbol[];
}

export function documentSymbols({ slices }: Snapshot): readonly Symbol[] {
  return slices.flatMap(({ start, parsed }) => itemSymbol(parsed.item, parsed.text, start));
}

function itemSymbol(item: Item, text: string, base: number): Symbol[] {
  if (item.kind === 'stray') return [];
  const named = item.kind === 'phrase' || item.kind === 'lesson' ? item.title : item.name;
  const name = named === null ? '' : 'value' in named ? named.value : named.text;
  const selection = named?.range ?? item.keyword.range;
  const rows = item.kind === 'phrase' ? item.rows.filter((row) => row.kind === 'over' || row.kind === 'line' || row.kind === 'degrees') : [];
  const children = rows.map((row): Symbol => ({
    name: row.keyword.text,
    detail: text.slice(row.keyword.range.end, row.range.end).trim().slice(0, 80),
    kind: 'row',
    ...placed(row.range, base),
    nameStart: base + row.keyword.range.start,
    nameEnd: base + row.keyword.range.end,
    children: [],
  }));
  return [{
    name: name.trim() === '' ? `(${item.kind} without a name)` : name,
    detail: item.kind === 'phrase' ? '' : item.kind,
    kind: item.kind,
    start: base + item.keyword.range.start,
    end: base + Math.max(item.range.end, selection.end),
    nameStart: base + selection.start,
    nameEnd: base + selection.end,
    children,
  }];
}

function placed({ start, end }: Range, base: number): { start: number; end: number } {
  return { start: base + start, end: base + end };
}
