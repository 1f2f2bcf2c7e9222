/** The `degrees` row of a line, written from the analysis. */
import { lineEnd } from '../../../../grammar/lines';
import type { LineRow, TextEdit } from '../../../../grammar/tree';
import { shownFigure } from '../../analysis/shown-figure';
import type { Reading } from '../../analysis/types';
import type { Bar, PlacedSlot } from '../../model/types';

/** A degrees row under each line. */
export function degreesEdits(reading: Reading): TextEdit[] {
  const { phrase } = reading;
  const lines = phrase.item.rows.filter((row): row is LineRow => row.kind === 'line');
  return lines.map((line) => {
    const at = lineEnd(phrase.text, line.range.end);
    return { range: { start: at, end: at }, text: `\n  degrees ${rowText(line, reading)}` };
  });
}

function rowText(line: LineRow, reading: Reading): string {
  const bars = reading.phrase.bars.filter(
    ({ node }) => node !== null && line.range.start <= node.range.start && node.range.end <= line.range.end,
  );
  return bars.map((bar, i) => `${bar.pickup ? '' : '|'} ${barFigures(bar, reading)}${i === bars.length - 1 ? ' |' : ''}`.trim()).join(' ');
}

/** The figures of one bar, a group of them a group of notes. */
export function barFigures(bar: Bar, reading: Reading): string {
  const groups = reading.phrase.groups.filter((group) => group.bar === bar.number);
  return groups.map((group) => group.slots.map((slot) => slotText(slot, reading)).join('-')).join(' ');
}

function slotText(slot: PlacedSlot, reading: Reading): string {
  if (slot.kind !== 'note' || slot.note === null) return '*';
  const { placement } = reading.notes[slot.note]!;
  return placement === null ? '*' : shownFigure(reading, placement);
}
