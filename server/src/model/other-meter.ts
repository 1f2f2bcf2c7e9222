/** Bars that all hold something else than their meter says: that is told once, of the meter or of how beats are written. */
import { writingAbove } from '../../../grammar/lines';
import { lastStart } from '../../../grammar/slices';
import { barBeats, type SystemRows } from '../../../grammar/systems';
import type { Fix, LineBar, MeterRow, PhraseItem, Problem, Range, TextEdit } from '../../../grammar/tree';
import { findCell, isGrowing, report, type BuildContext } from './context';
import { meterText } from './time';
import type { Bar, Meter } from './types';

/** Fewer bars say nothing of a meter. */
const LEAST_BARS = 2;
/** No meter has more. */
const MOST_BEATS = 32;

/** Bars in one meter that follow one another. */
interface Stretch {
  readonly meter: Meter;
  readonly bars: readonly (Bar & { readonly node: LineBar })[];
}

/** Puts one finding in place of those of a stretch's bars. `drafts` are the systems as they are laid, by their index. */
export function tellOnceOfMeter(item: PhraseItem, bars: readonly Bar[], drafts: readonly SystemRows[], context: BuildContext): void {
  const lengths = new Map(context.problems.filter(({ rule }) => rule === 'bar-length').map((problem) => [problem.range, problem]));
  if (lengths.size < LEAST_BARS) return;
  const meterRows = item.rows.filter((row): row is MeterRow => row.kind === 'meter');
  const gone = new Set<Problem>();
  // Chords that share a bar of the other meter, by where their system begins.
  const others: { readonly start: number; readonly beats: number | null }[] = [];
  for (const stretch of stretchesOf(bars, context)) {
    const system = drafts[stretch.bars[0]!.system]!;
    const { start } = (system.over ?? system.rows[0]!).range;
    const wrong = stretch.bars.filter(({ node }) => lengths.has(node.range));
    const beats = sharedBeats(stretch, wrong, lengths, context);
    const row = meterRows[lastStart(meterRows.length, (i) => meterRows[i]!.range.start, start)];
    const above = row !== undefined && row.range.start < start ? row : undefined;
    // Of a row that is written otherwise another finding tells.
    const isTold = beats !== null && (above === undefined || isWrittenSo(above, context.text));
    const together =
      beats === null
        ? 1
        : inOneBeat(
            stretch.meter,
            beats,
            wrong.map(({ node }) => node),
          );
    others.push({ start, beats: isTold && together === 1 ? beats : null });
    if (beats === null || !isTold) continue;
    for (const { node } of wrong) gone.add(lengths.get(node.range)!);
    tell({ stretch, wrong, beats, together, above, start }, context);
  }
  const goesToo = ({ rule, range, facts }: Problem): boolean => {
    const beats = rule === 'chord-shares' ? (others[lastStart(others.length, (i) => others[i]!.start, range.start)]?.beats ?? null) : null;
    return beats !== null && (beats * 2) % Number(facts['chords']) === 0;
  };
  const kept = context.problems.filter((problem) => !gone.has(problem) && !goesToo(problem));
  context.problems.splice(0, context.problems.length, ...kept);
}

interface Mismatch {
  readonly stretch: Stretch;
  readonly wrong: Stretch['bars'];
  readonly beats: number;
  /** How many groups share a beat, where they are notes that lack their hyphens; else 1. */
  readonly together: number;
  readonly above: MeterRow | undefined;
  /** Where its first system begins. */
  readonly start: number;
}

function tell({ stretch, wrong, beats, together, above, start }: Mismatch, context: BuildContext): void {
  const [first] = wrong;
  const meters = together === 1 ? otherMeters(stretch.meter, beats) : [];
  const facts = {
    bars: wrong.length === stretch.bars.length ? 'Each bar' : `Each of ${wrong.length} bars`,
    written: beats,
    holds: stretch.meter.beatCount,
    meter: meterText(stretch.meter),
    together,
    offered: meters.join(' or '),
    isWritten: above === undefined ? 'no' : 'yes',
    joined: together === 1 ? '' : joinedStart(first!.node, together, context.text),
  };
  if (together > 1)
    report(context, 'other-meter', 'error', first!.node.range, {
      facts,
      fixes: [
        joining(
          wrong.map(({ node }) => node),
          together,
        ),
      ],
    });
  else
    report(context, 'other-meter', 'error', above === undefined ? first!.node.range : { start: above.range.start, end: above.range.end }, {
      facts,
      fixes: meters.map((meter) => writingMeter(meter, above, start, context.text)),
    });
}

/** The beats that all bars of a stretch hold, most of them by an error; null where they do not. */
function sharedBeats(
  { bars }: Stretch,
  wrong: Stretch['bars'],
  lengths: ReadonlyMap<Range, Problem>,
  context: BuildContext,
): number | null {
  const [first] = wrong;
  if (first === undefined || wrong.length < LEAST_BARS || wrong.length * 2 <= bars.length) return null;
  const beats = Number(lengths.get(first.node.range)!.facts['written']);
  return Number.isInteger(beats) && beats >= 1 && beats <= MOST_BEATS && bars.every(({ node }) => fits(node, beats, context))
    ? beats
    : null;
}

function isWrittenSo({ range, meter }: MeterRow, text: string): boolean {
  return meter !== null && text.slice(range.start, range.end).replace(/\s+/, ' ') === `meter ${meterText(meter)}`;
}

function stretchesOf(bars: readonly Bar[], context: BuildContext): Stretch[] {
  const stretches: { meter: Meter; bars: (Bar & { node: LineBar })[] }[] = [];
  for (const bar of bars) {
    const { node, meter } = bar;
    if (node === null || bar.pickup || node.broken || isGrowing(context, node)) continue;
    const last = stretches[stretches.length - 1];
    if (last?.meter === meter) last.bars.push({ ...bar, node });
    else stretches.push({ meter, bars: [{ ...bar, node }] });
  }
  return stretches;
}

/** Whether a bar is whole in so many beats. */
function fits(node: LineBar, beats: number, context: BuildContext): boolean {
  const groups = node.groups.length;
  const isWeighted = node.groups.some(({ weight }) => weight !== null);
  return groups > 0 && (barBeats(node, (name) => findCell(context, name)) === beats || (!isWeighted && beats % groups === 0));
}

/** How many of the groups share a beat, where each is one note that was meant for a part of it; 1 where none do. */
function inOneBeat({ beatCount, compound }: Meter, beats: number, nodes: readonly LineBar[]): number {
  const parts = compound ? 3 : 2;
  const isPlain = nodes.every(
    ({ groups }) =>
      groups.length === beats && groups.every((group) => group.kind === 'slots' && group.weight === null && group.slots.length === 1),
  );
  return isPlain && beats === parts * beatCount ? parts : 1;
}

function otherMeters({ unit, compound }: Meter, beats: number): string[] {
  const meters = compound
    ? [
        { beats: beats * 3, unit },
        { beats, unit: 4 as const },
      ]
    : [{ beats, unit }];
  return meters.filter((meter) => meter.beats <= MOST_BEATS).map(meterText);
}

function writingMeter(meter: string, row: MeterRow | undefined, start: number, text: string): Fix {
  const edit: TextEdit =
    row === undefined
      ? writingAbove(text, start, `meter ${meter}`)
      : { range: { start: row.keyword.range.end, end: row.range.end }, text: ` ${meter}` };
  return { title: `Write meter ${meter}`, safe: false, preferred: true, edits: [edit] };
}

/** The first beat as it is written with hyphens. */
function joinedStart({ groups }: LineBar, together: number, text: string): string {
  return groups
    .slice(0, together)
    .map(({ range }) => text.slice(range.start, range.end))
    .join('-')
    .slice(0, 40);
}

function joining(nodes: readonly LineBar[], together: number): Fix {
  const edits = nodes.flatMap(({ groups }) =>
    groups
      .slice(1)
      .flatMap((group, i): TextEdit[] =>
        (i + 1) % together === 0 ? [] : [{ range: { start: groups[i]!.range.end, end: group.range.start }, text: '-' }],
      ),
  );
  return { title: together === 2 ? 'Join the notes in twos' : 'Join the notes in threes', safe: false, preferred: true, edits };
}
