/**
 * Bar lines that a line lacks: a bar holds the beats of several, and by just as many bars the line is shorter than its chords. And those that
 * the chords lack: all stand in one bar, which they cannot share, and are as many as the line has bars.
 */
import { barBeats, beatCount, groupBeats, isCompound, wholeBars, type SystemRows } from '../../../grammar/systems';
import type { CellItem, ChordBar, Fix, Group, LineBar, Range, Row } from '../../../grammar/tree';
import { findCell, isWrittenBelow, report, type BuildContext } from './context';
import { joinLoose } from './loose-qualities';
import { meterText } from './time';
import type { Bar } from './types';

/** The bars of one that lacks bar lines, and what is told of it. */
export interface Parted {
  readonly parts: readonly LineBar[];
  readonly beats: number;
}

/** Those of a system's bars that are several, by their node; empty where the chords do not say that bar lines are missing. */
export function partedBars(
  draft: SystemRows,
  overBars: number | null,
  firstLine: Row | undefined,
  cellNamed: (name: string) => CellItem | undefined,
): ReadonlyMap<LineBar, Parted> {
  const nodes = wholeBars(draft, firstLine, cellNamed);
  if (overBars === null || nodes.length >= overBars) return NONE;
  const parted = new Map(
    nodes.flatMap((node): [LineBar, Parted][] => {
      const groups = partsOf(node, beatCount(draft.meter), cellNamed);
      return groups === null
        ? []
        : [[node, { parts: groups.map((part, i) => barOf(node, part, i, groups.length)), beats: barBeats(node, cellNamed) }]];
    }),
  );
  const more = [...parted.values()].reduce((sum, { parts }) => sum + parts.length - 1, 0);
  return nodes.length + more === overBars ? parted : NONE;
}

const NONE: ReadonlyMap<LineBar, Parted> = new Map();

/**
 * A system whose chords all stand in one bar, which they cannot share, and are as many as its line has bars, with a bar for each of them.
 * Chords that can share it are one bar over which the line goes on, with bar lines or without: formatting writes those round the row.
 */
export function withChordBarLines(draft: SystemRows, firstLine: Row | undefined, context: BuildContext): SystemRows {
  const { over, meter } = draft;
  const bar = loneBarOfChords(draft);
  if (over === null || bar === null || bar.shares.length < 2) return draft;
  const areChords = joinLoose(bar, context.key, null) === bar;
  const canShare = (isCompound(meter) ? meter.beats : beatCount(meter) * 2) % bar.shares.length === 0;
  if (!areChords || isWrittenBelow(context, over) || canShare) return draft;
  const cellNamed = (name: string): CellItem | undefined => findCell(context, name);
  const lineBars = wholeBars(draft, firstLine, cellNamed).reduce(
    (sum, node) => sum + (partsOf(node, beatCount(meter), cellNamed)?.length ?? 1),
    0,
  );
  if (lineBars !== bar.shares.length) return draft;
  report(
    context,
    'missing-bar-line',
    'error',
    { start: bar.shares[0]!.range.start, end: bar.shares[bar.shares.length - 1]!.range.end },
    {
      facts: { of: 'chords', chords: bar.shares.length },
      fixes: [writingBarLines(bar.shares)],
    },
  );
  return {
    ...draft,
    over: {
      ...over,
      bars: bar.shares.map((share, i): ChordBar => {
        const isLast = i === bar.shares.length - 1;
        return {
          range: share.range,
          shares: [share],
          broken: false,
          open: i === 0 ? bar.open : null,
          close: isLast ? bar.close : null,
          double: isLast && bar.double,
        };
      }),
    },
  };
}

/** The fix that gives each chord a bar, where all stand in the one bar of a row and are as many as the bars of the line; null elsewhere. */
export function eachChordABar(draft: SystemRows, lineBars: number): Fix | null {
  const bar = loneBarOfChords(draft);
  if (bar === null || bar.shares.length !== lineBars) return null;
  return { ...writingBarLines(bar.shares), title: 'Give each chord a bar', safe: false };
}

/** The one bar of a row of chords that holds chords alone; null where there are more, or something else stands there. */
function loneBarOfChords({ over }: SystemRows): ChordBar | null {
  const bar = over?.changes === null && over.bars.length === 1 ? over.bars[0]! : null;
  const isOfChords = bar !== null && !bar.broken && bar.shares.every(({ kind }) => kind === 'chord' || kind === 'no-chord');
  return isOfChords ? bar : null;
}

/** The groups of a bar in full bars; null where it is not two bars or more, or one begins within a group. */
function partsOf(node: LineBar, beats: number, cellNamed: (name: string) => CellItem | undefined): Group[][] | null {
  if (node.broken || barBeats(node, cellNamed) < 2 * beats) return null;
  const parts: Group[][] = [];
  let filled = beats;
  for (const group of node.groups) {
    if (filled === beats) {
      parts.push([]);
      filled = 0;
    }
    parts[parts.length - 1]!.push(group);
    filled += groupBeats(group, cellNamed);
    if (filled > beats) return null;
  }
  return filled === beats ? parts : null;
}

function barOf(node: LineBar, groups: readonly Group[], index: number, count: number): LineBar {
  const isLast = index === count - 1;
  return {
    range: { start: groups[0]!.range.start, end: groups[groups.length - 1]!.range.end },
    groups,
    broken: false,
    open: index === 0 ? node.open : null,
    close: isLast ? node.close : null,
    double: isLast && node.double,
  };
}

/** One finding a bar, at the first place where a bar line is missing. */
export function reportMissingBarLines({ parts, beats }: Parted, bar: Bar, context: BuildContext): void {
  const before = parts[0]!.groups[parts[0]!.groups.length - 1]!.range;
  const after = parts[1]!.groups[0]!.range;
  report(
    context,
    'missing-bar-line',
    'error',
    { start: before.start, end: after.end },
    {
      facts: {
        of: 'line',
        after: context.text.slice(before.start, before.end).slice(0, 40),
        bar: bar.number,
        holds: bar.meter.beatCount,
        meter: meterText(bar.meter),
        written: beats,
        count: parts.length - 1,
      },
      fixes: [writingBarLines(parts)],
    },
  );
}

/** The fix that writes a bar line behind each but the last. */
function writingBarLines(parts: readonly { readonly range: Range }[]): Fix {
  const edits = parts.slice(0, -1).map(({ range: { end } }) => ({ range: { start: end, end }, text: ' |' }));
  return { title: edits.length === 1 ? 'Write the bar line' : `Write the ${edits.length} bar lines`, safe: true, preferred: true, edits };
}
