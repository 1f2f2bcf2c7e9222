/** The row of chord symbols above a system: each above its place, none over another, none over the notation. */
import { topBetween, type Box } from './boxes';
import type { Extent } from './measure';

/** A symbol with the place it stands above; its extent in parts of the size of its letters. */
export interface PlacedSymbol extends Extent {
  readonly x: number;
}

export interface SymbolRoom {
  /** The size of the letters where there is room for it. */
  readonly size: number;
  /** Where the lowest line of the row stands unless ink is in its way. */
  readonly baseline: number;
  readonly left: number;
  readonly right: number;
}

export interface SymbolRow {
  readonly size: number;
  /** Where each symbol begins: its left end on its line. */
  readonly places: readonly { readonly x: number; readonly y: number }[];
}

/** Parts of the size: smaller letters are hard to read beside a staff. */
export const SMALLEST = 0.65;
/** On two lines letters need not be quite as small. */
const TWO_LINES = 0.85;
const STEP = 0.05;
/** In parts of the size of the letters. */
const BETWEEN = 0.28;
const ABOVE_INK = 0.2;
const LINE = 1.12;

/** Lays a row out: letters are made smaller until neighbours part, and only then some lifted by a line; ink lifts the whole row. */
export function symbolRow(symbols: readonly PlacedSymbol[], ink: readonly Box[], room: SymbolRoom): SymbolRow {
  const onLines = (most: number, largest: number): Lines | null => {
    for (let share = largest; share > SMALLEST - STEP / 2; share -= STEP) {
      const lines = linesOf(symbols, room.size * share, room);
      if (lines.count <= most) return lines;
    }
    return null;
  };
  const { size, xs, lines } = onLines(1, 1) ?? onLines(2, TWO_LINES) ?? linesOf(symbols, room.size * SMALLEST, room);
  const lineHeight = LINE * Math.max(size, ...symbols.map(({ ascent, descent }) => size * (ascent + descent)));
  const lowest = symbols.map(({ width, descent }, i) => {
    const top = topBetween(ink, xs[i]! - size * ABOVE_INK, xs[i]! + size * (width + ABOVE_INK), Infinity);
    return top - size * (ABOVE_INK + descent) + lines[i]! * lineHeight;
  });
  const baseline = Math.min(room.baseline, ...lowest);
  return { size, places: symbols.map((_, i) => ({ x: xs[i]!, y: baseline - lines[i]! * lineHeight })) };
}

interface Lines {
  readonly size: number;
  readonly count: number;
  readonly xs: readonly number[];
  /** From 0, upward. */
  readonly lines: readonly number[];
}

/** Each symbol on the lowest line where it is clear of those before it. */
function linesOf(symbols: readonly PlacedSymbol[], size: number, { left, right }: SymbolRoom): Lines {
  const ends: number[] = [];
  // At the end of a system a long symbol starts before its place rather than be cut off.
  const xs = symbols.map(({ x, width }) => Math.max(left, Math.min(x, right - size * width)));
  const lines = symbols.map(({ width }, i) => {
    const free = ends.findIndex((end) => end <= xs[i]!);
    const line = free >= 0 ? free : ends.length;
    ends[line] = xs[i]! + size * (width + BETWEEN);
    return line;
  });
  return { size, count: ends.length, xs, lines };
}
