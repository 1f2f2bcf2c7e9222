/** `degrees` rows: which note each figure of the writer's numbering stands under. */
import { pairedRows } from '../../../grammar/pairing';
import type { DegreesRow, FigureBar } from '../../../grammar/tree';
import { report, type BuildContext } from './context';
import type { Bar, PlacedGroup, WrittenFigure } from './types';

/** A line row as laid: its bars, in order. */
export interface LaidRow {
  readonly bars: readonly Bar[];
}

/** Pairs the bars of `degrees` rows with the bars of the `line` rows just above them. */
export function pairRows(lines: readonly LaidRow[], rows: readonly DegreesRow[]): { row: DegreesRow; bars: readonly Bar[] }[] {
  const pairs = pairedRows(lines, rows);
  return rows.map((row, i) => ({ row, bars: pairs[i]!.flatMap((line) => lines[line]!.bars) }));
}

/** The bars that those of a row of figures stand under: one written from the bar line on leaves the pickup out. */
export function barsUnder({ bars: [first] }: DegreesRow, bars: readonly Bar[]): readonly Bar[] {
  const pickupWritten = first?.open === null && first.close !== null;
  return bars[0]?.pickup === true && !pickupWritten ? bars.slice(1) : bars;
}

/** The figures of one row with the notes they stand under; those that stand under none are reported. */
export function placeFigures(
  row: DegreesRow,
  bars: readonly Bar[],
  groups: readonly PlacedGroup[],
  context: BuildContext,
): WrittenFigure[] {
  const target = barsUnder(row, bars);
  const byBar = new Map<number, PlacedGroup[]>();
  for (const group of groups) byBar.set(group.bar, [...(byBar.get(group.bar) ?? []), group]);
  return row.bars.flatMap((figures, i) => {
    const bar = target[i];
    return figuresOf(figures, bar === undefined ? [] : (byBar.get(bar.number) ?? []), context);
  });
}

function figuresOf(bar: FigureBar, groups: readonly PlacedGroup[], context: BuildContext): WrittenFigure[] {
  return bar.groups.flatMap((group, g) =>
    group.slots.flatMap((slot, s): WrittenFigure[] => {
      if (slot.kind !== 'figure') return [];
      const placed = groups[g]?.slots[s];
      const note = placed?.kind === 'note' ? placed.note : null;
      const figure = `${slot.head.accidental}${slot.head.number}`;
      if (note === null && placed?.kind !== 'bad' && !bar.broken) {
        const stands = placed === undefined ? 'nothing' : placed.kind === 'hold' ? 'a held note' : 'a rest';
        report(context, 'figure-without-note', 'error', slot.range, {
          facts: { figure, stands },
          fixes: placed === undefined ? [] : [{ title: 'Write * (no figure)', safe: false, edits: [{ range: slot.range, text: '*' }] }],
        });
      }
      return [{ range: slot.range, number: slot.head.number, accidental: slot.head.accidental, note }];
    }),
  );
}
