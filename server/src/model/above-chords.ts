/** A line that stands above its chords: as one writes it down who begins with the melody. It sounds over no chord. */
import { movingLines, writingAbove } from '../../../grammar/lines';
import type { DegreesRow, Fix, LineRow, OverRow, Range, Row } from '../../../grammar/tree';
import { report, type BuildContext } from './context';

/** The rows of one system, and how many bars its chords and its lines have. */
export interface LaidSystem {
  readonly over: OverRow | null;
  readonly rows: readonly (LineRow | DegreesRow)[];
  readonly overBars: number;
  readonly lineBars: number;
}

/** One finding a phrase, at its first line; the degrees there, which have nothing to count from, need none of their own. */
export function reportLineAbove(rows: readonly Row[], systems: readonly LaidSystem[], context: BuildContext): void {
  const firstChords = systems.findIndex(({ over }) => over !== null);
  const above = systems.slice(0, Math.max(0, firstChords)).flatMap((system) => system.rows);
  const line = above.find((row): row is LineRow => row.kind === 'line' && row.bars.length > 0);
  if (line === undefined) return;
  const isAbove = ({ start }: Range): boolean => above.some(({ range }) => range.start <= start && start < range.end);
  const kept = context.problems.filter(({ rule, range }) => rule !== 'figure-without-chord' || !isAbove(range));
  context.problems.splice(0, context.problems.length, ...kept);
  const silence: Fix = {
    title: 'Write that no chord sounds: over | N.C. |',
    safe: false,
    edits: [writingAbove(context.text, line.range.start, 'over | N.C. |')],
  };
  report(context, 'line-above-chords', 'warning', line.keyword.range, { fixes: [...moves(rows, systems, context.text), silence] });
}

/** The fix that puts each row of chords above the line before it; none where some line stands below its chords already. */
function moves(rows: readonly Row[], systems: readonly LaidSystem[], text: string): Fix[] {
  const chords = systems.slice(1);
  const lines = systems.slice(0, -1);
  const isTurned =
    systems[systems.length - 1]!.rows.length === 0 &&
    chords.every(({ over }) => over !== null) &&
    lines.every((system) => system.rows.length > 0);
  const first = systems[0]!.rows[0]!;
  const isOneMeter = rows.every((row) => row.kind !== 'meter' || row.range.start < first.range.start);
  if (!isTurned || !isOneMeter) return [];
  const edits = chords.flatMap(({ over }, i) => movingLines(text, over!.range, lines[i]!.rows[0]!.range.start));
  const isSafe = chords.every(({ overBars }, i) => overBars === lines[i]!.lineBars);
  return [
    {
      title: chords.length === 1 ? 'Move the line below its chords' : 'Move each line below its chords',
      safe: isSafe,
      preferred: true,
      edits,
    },
  ];
}
