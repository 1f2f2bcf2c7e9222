/** Chords of an `over` row as text: of a `changes` definition, and of spans in time. */
import type { Fraction } from '../../model/fraction';
import type { ChordBar, ChordWord, OverRow, TextEdit } from '../../../../grammar/tree';
import type { ChordSpan, Phrase } from '../../model/types';
import type { Snapshot } from '../../model/snapshot';
import type { Measure } from './score';

/** The bars of a definition as it writes them, bar lines at both ends; null where there is none. */
export function definitionText({ slices, definitions }: Snapshot, name: string): string | null {
  const item = definitions.changes.get(name);
  if (item === undefined || item.bars.length === 0) return null;
  const slice = slices.find(({ parsed }) => parsed.item === item || (parsed.item.kind === 'phrase' && parsed.item.nested.includes(item)));
  return slice === undefined ? null : chordsOnOneLine(slice.parsed.text, item.bars);
}

/** Bars of chords as their text has them, on one line, bar lines at both ends; comments between them are left out. Null where one is broken. */
export function chordsOnOneLine(text: string, bars: readonly ChordBar[]): string | null {
  if (bars.some(({ broken }) => broken)) return null;
  return `|${bars.map(({ range, double }) => ` ${text.slice(range.start, range.end)} ${double ? '||' : '|'}`).join('')}`;
}

/** The edits that write the definitions a phrase uses into its `over` rows; null where one is missing. */
export function definitionsWrittenOut(snapshot: Snapshot, { item }: Phrase): TextEdit[] | null {
  const rows = item.rows.filter((row): row is OverRow => row.kind === 'over' && row.changes !== null);
  const edits = rows.map((row) => {
    const text = definitionText(snapshot, row.changes!.text);
    return text === null ? null : { range: row.changes!.range, text };
  });
  return edits.some((edit) => edit === null) ? null : (edits as TextEdit[]);
}

export interface TimedSymbol {
  readonly onset: Fraction;
  readonly end: Fraction;
  /** What to write: a symbol or a numeral, its scale with it. */
  readonly text: string;
}

export function symbolOf(span: ChordSpan): string {
  return span.written + (span.statedScale === null ? '' : `:${span.statedScale.replaceAll(' ', '-')}`);
}

/** The bars of an `over` row; null where a change falls where no equal shares can put it. */
export function writeChords(measures: readonly Measure[], symbols: readonly TimedSymbol[]): string | null {
  const bars = measures.filter(({ number }) => number > 0).map((measure) => barOfChords(measure, symbols));
  return bars.some((bar) => bar === null) ? null : `| ${bars.join(' | ')} |`;
}

function barOfChords({ onset, length, meter }: Measure, symbols: readonly TimedSymbol[]): string | null {
  const most = meter.compound ? meter.beatCount * 3 : meter.beatCount * 2;
  for (let shares = 1; shares <= most; shares += 1) {
    if (most % shares !== 0) continue;
    const words = shared(onset, length, shares, symbols);
    if (words !== null) return words.join(' ');
  }
  return null;
}

function shared(onset: Fraction, length: Fraction, shares: number, symbols: readonly TimedSymbol[]): string[] | null {
  const end = onset.add(length);
  const inside = symbols.filter((symbol) => symbol.onset.compare(onset) > 0 && symbol.onset.compare(end) < 0);
  const share = length.div(shares);
  if (inside.some((symbol) => symbol.onset.sub(onset).div(share).d !== 1n)) return null;
  return Array.from({ length: shares }, (_, i) => {
    const at = onset.add(share.mul(i));
    const sounding = symbols.findLast((symbol) => symbol.onset.compare(at) <= 0 && symbol.end.compare(at) > 0);
    if (sounding === undefined) return 'N.C.';
    return i === 0 || sounding.onset.equals(at) ? sounding.text : '/';
  });
}

/** The chord words of a row. */
export function chordsOf(row: OverRow): ChordWord[] {
  return row.bars.flatMap((bar) => bar.shares).filter((share): share is ChordWord => share.kind === 'chord');
}
