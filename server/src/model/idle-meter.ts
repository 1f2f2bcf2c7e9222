/** A meter below all chords and lines of its phrase: it holds for what follows it, and nothing does. */
import { movingLines } from '../../../grammar/lines';
import { isMusicRow } from '../../../grammar/systems';
import type { MeterRow, Row } from '../../../grammar/tree';
import { report, type BuildContext } from './context';
import { meterText } from './time';

/** One finding a phrase, at the last such meter. Its fix is for a phrase that has no other meter. */
export function reportIdleMeter(rows: readonly Row[], context: BuildContext): void {
  const first = rows.find(isMusicRow);
  const last = rows.findLast(isMusicRow);
  const meters = rows.filter((row): row is MeterRow => row.kind === 'meter' && row.meter !== null);
  const idle = meters[meters.length - 1];
  if (first === undefined || last === undefined || idle === undefined || idle.range.start < last.range.start) return;
  report(context, 'meter-below-music', 'information', idle.range, {
    facts: { meter: meterText(idle.meter!) },
    fixes:
      meters.length > 1
        ? []
        : [
            {
              title: 'Move the meter above the music',
              safe: false,
              preferred: true,
              edits: movingLines(context.text, idle.range, first.range.start),
            },
          ],
  });
}
