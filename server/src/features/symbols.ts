/** The outline of a document: the lesson, in it the definitions and phrases, in a phrase its systems. */
import { isMusicRow } from '../../../grammar/systems';
import type { Item, Row } from '../../../grammar/tree';
import { guarded } from '../model/faults';
import { perPart } from '../model/per-part';
import type { Snapshot } from '../model/snapshot';
import type { Bar, Phrase } from '../model/types';
import { formatKey } from '../theory/key';
import { plainLine } from './plain-line';

export interface Symbol {
  readonly name: string;
  readonly detail: string;
  readonly kind: 'lesson' | 'changes' | 'cell' | 'phrase' | 'system';
  readonly start: number;
  readonly end: number;
  /** The part to select. */
  readonly nameStart: number;
  readonly nameEnd: number;
  readonly children: readonly Symbol[];
}

/** A lesson holds what follows it; what stands before it, or in a file without one, is at the top. */
export function documentSymbols(snapshot: Snapshot): readonly Symbol[] {
  return outlineOf(snapshot, {
    symbol: (own, start) => movedSymbol(own, start),
    lesson: (symbol, end, children) => ({ ...symbol, end: Math.max(symbol.end, end), children }),
  });
}

/** How an outline is made: of the symbol of a slice, whose offsets count from the start of the slice, and of a lesson with all that it holds, up to an offset. */
export interface OutlineMaker<T> {
  symbol(own: Symbol, start: number): T;
  lesson(symbol: T, end: number, children: T[]): T;
}

/** The outline as something else is made of its symbols: for who keeps what was made of a slice. A symbol is the same object as long as its slice is. */
export function outlineOf<T>(snapshot: Snapshot, make: OutlineMaker<T>): T[] {
  const { slices, text } = snapshot;
  const top: T[] = [];
  let inLesson: { readonly symbol: T; readonly children: T[] } | null = null;
  const close = (end: number): void => {
    if (inLesson !== null) top.push(make.lesson(inLesson.symbol, end, inLesson.children));
    inLesson = null;
  };
  symbolsOfParts(snapshot, null).forEach((own, i) => {
    if (own === null) return;
    const { start } = slices[i]!;
    const symbol = make.symbol(own, start);
    if (own.kind === 'lesson') {
      close(start);
      inLesson = { symbol, children: [] };
    } else (inLesson?.children ?? top).push(symbol);
  });
  close(text.length);
  return top;
}

/** Offsets count from the start of the slice; null where it has no item. */
const symbolsOfParts = perPart<Symbol | null, null>(
  ({ parsed: { item, text }, phrase }) =>
    item.kind === 'stray' ? null : guarded(`the entry of a ${item.kind} in the outline`, null, () => itemSymbol(item, phrase, text)),
  () => true,
);

/** The same so many characters further on. */
export function movedSymbol({ name, detail, kind, start, end, nameStart, nameEnd, children }: Symbol, by: number): Symbol {
  return {
    name,
    detail,
    kind,
    start: start + by,
    end: end + by,
    nameStart: nameStart + by,
    nameEnd: nameEnd + by,
    children: children.map((child) => movedSymbol(child, by)),
  };
}

function itemSymbol(item: Exclude<Item, { kind: 'stray' }>, phrase: Phrase | null, text: string): Symbol {
  const named = item.kind === 'phrase' || item.kind === 'lesson' ? item.title : item.name;
  const name = plainLine(named === null ? '' : 'value' in named ? named.value : named.text);
  const selection = named?.range ?? item.keyword.range;
  return {
    name: name.trim() === '' ? `(${item.kind} without a name)` : name,
    detail: phrase === null ? item.kind : guarded('what the outline says of a phrase', '', () => phraseDetail(phrase)),
    kind: item.kind,
    start: item.keyword.range.start,
    end: Math.max(item.range.end, selection.end),
    nameStart: selection.start,
    nameEnd: selection.end,
    children: item.kind === 'phrase' ? guarded('the systems in the outline', [], () => systemSymbols(item.rows, phrase, text)) : [],
  };
}

function phraseDetail(phrase: Phrase): string {
  const bars = phrase.bars.filter(({ number }) => number > 0).length;
  const length = `${bars} ${bars === 1 ? 'bar' : 'bars'}`;
  return phrase.key === null ? length : `${formatKey(phrase.key)}, ${length}`;
}

/** A system is one `over` row and the rows of music below it; lines above the first `over` are a system without chords. */
function systemSymbols(rows: readonly Row[], phrase: Phrase | null, text: string): Symbol[] {
  const systems: Row[][] = [];
  for (const row of rows) {
    if (!isMusicRow(row)) continue;
    if (row.kind === 'over' || systems.length === 0) systems.push([]);
    systems[systems.length - 1]!.push(row);
  }
  const bars = barsOfSystems(systems, phrase?.bars ?? []);
  return systems.map((system, i) => {
    const [first] = system as [Row];
    const last = system[system.length - 1]!;
    const content = plainLine(text.slice(first.keyword.range.end, first.range.end)).replace(/\s+/g, ' ').trim().slice(0, 60);
    return {
      name: first.kind === 'over' && content !== '' ? content : 'No chords',
      detail: bars[i]!,
      kind: 'system',
      start: first.range.start,
      end: last.range.end,
      nameStart: first.keyword.range.start,
      nameEnd: first.keyword.range.end,
      children: [],
    };
  });
}

/** `bars 3–4` for each system, from the bars that its lines hold; empty where it has only chords. Bars and systems are in the order of the text. */
function barsOfSystems(systems: readonly (readonly Row[])[], bars: readonly Bar[]): string[] {
  const numbers = systems.map((): number[] => []);
  let system = 0;
  for (const { node, number, pickup } of bars) {
    if (node === null || pickup) continue;
    while (system + 1 < systems.length && systems[system + 1]![0]!.range.start <= node.range.start) system += 1;
    numbers[system]!.push(number);
  }
  return numbers.map(([first, ...more]) => {
    const last = more[more.length - 1] ?? first;
    return first === undefined ? '' : first === last ? `bar ${first}` : `bars ${first}–${last}`;
  });
}
