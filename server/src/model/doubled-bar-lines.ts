/** Bar lines with nothing between them: where the line and its chords differ by just those bars, they are one bar line written twice. */
import { wholeBars, type SystemRows } from '../../../grammar/systems';
import type { ChordBar, DegreesRow, FigureBar, Fix, LineBar, LineRow, OverRow, Range, Row, TextEdit } from '../../../grammar/tree';
import { findCell, findChanges, isWrittenBelow, report, type BuildContext } from './context';

type AnyBar = LineBar | ChordBar | FigureBar;
const isEmptyChords = (bar: ChordBar): boolean => bar.shares.length === 0;
const isEmptyLine = (bar: LineBar | FigureBar): boolean => bar.groups.length === 0;

/** A system without the bars that only bar lines written twice make; one finding a row tells of them. */
export function withoutDoubled(draft: SystemRows, firstLine: Row | undefined, context: BuildContext): SystemRows {
  const lines = draft.rows.filter((row): row is LineRow => row.kind === 'line');
  const { over } = draft;
  if (over === null || lines.length === 0) return draft;
  const written = over.changes === null ? over.bars : findChanges(context, over.changes.text)?.bars;
  if (written === undefined) return draft;
  const lineBars = wholeBars(draft, firstLine, (name) => findCell(context, name));
  const more = written.length - lineBars.length;
  if (
    over.changes === null &&
    !isWrittenBelow(context, over) &&
    more > 0 &&
    over.bars.filter(isEmptyChords).length === more &&
    lineBars.every((bar) => !isEmptyLine(bar))
  ) {
    tell(over.bars.filter(isEmptyChords), 'chords', context);
    return { ...draft, over: { ...over, bars: over.bars.filter((bar) => !isEmptyChords(bar)) } };
  }
  // A line may be longer than a row of one chord: that says nothing of its bars.
  if (more >= 0 || isVamp(written) || lineBars.filter(isEmptyLine).length !== -more || written.some(isEmptyChords)) return draft;
  for (const row of lines) tell(row.bars.filter(isEmptyLine), 'line', context);
  return { ...draft, rows: draft.rows.map((row, i) => without(row, row.kind === 'line' ? row : lineAbove(draft.rows, i))) };
}

function isVamp(bars: OverRow['bars']): boolean {
  return new Set(bars.flatMap(({ shares }) => shares.map((share) => (share.kind === 'chord' ? share.symbol.text : '')))).size <= 1;
}

function lineAbove(rows: SystemRows['rows'], index: number): LineRow | undefined {
  return rows.slice(0, index).findLast((row): row is LineRow => row.kind === 'line');
}

/** Figures that copy the bar lines of their line lose the same bars. */
function without<R extends LineRow | DegreesRow>(row: R, line: LineRow | undefined): R {
  if (line === undefined || row.bars.length !== line.bars.length) return row;
  return { ...row, bars: (row.bars as readonly AnyBar[]).filter((_, i) => !isEmptyLine(line.bars[i]!)) };
}

function tell(bars: readonly AnyBar[], of: 'chords' | 'line', context: BuildContext): void {
  const [first] = bars;
  if (first === undefined) return;
  report(context, 'doubled-bar-line', 'error', between(first), {
    facts: { count: bars.length, of },
    fixes: [
      {
        title: bars.length === 1 ? 'Take one bar line away' : `Take ${bars.length} bar lines away`,
        safe: true,
        preferred: true,
        edits: bars.map(undoubling),
      },
    ],
  });
}

/** From the bar line that opens an empty bar to the end of the one that closes it. */
export function between({ open, close, range }: AnyBar): Range {
  return open === null || close === null ? range : { start: open.start, end: close.end };
}

/** The fix that leaves an empty bar out; none where no two bar lines make it. */
export function takingAway(bar: AnyBar): Fix[] {
  return bar.open === null || bar.close === null ? [] : [{ title: 'Take the bar line away', safe: false, edits: [undoubling(bar)] }];
}

/** Takes the bar line away that says less: `||` stays. */
function undoubling({ open, close, double }: AnyBar): TextEdit {
  return { range: double ? { start: open!.start, end: close!.start } : { start: open!.end, end: close!.end }, text: '' };
}
