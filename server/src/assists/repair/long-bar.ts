/** Repairs of a bar that holds too many beats: its rest goes to the next bar, or its last values are halved. */
import { applyEdits } from '../../../../grammar/printer';
import { barBeats, groupBeats } from '../../../../grammar/systems';
import type { CellItem, DegreesRow, FigureBar, FigureGroup, Group, LineBar, Problem, Slot, TextEdit } from '../../../../grammar/tree';
import { leastMultiple } from '../../model/time';
import { problemsOf } from '../../rules/findings';
import type { Reading } from '../../analysis/types';
import type { Bar, Phrase } from '../../model/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { contains } from '../writing/selection';
import { lineRows, readText, sorted } from '../writing/whole-phrase';

export const longBar: Assist = {
  id: 'long-bar',
  kind: 'quickfix',
  what: 'Mends a bar that holds too many beats: moves its rest to the next bar, or halves its last values, and the figures under them.',
  offers(context) {
    const tooLong = barHere(context);
    return tooLong === null ? [] : [...restMoved(context, tooLong), ...valuesHalved(context, tooLong)];
  },
};

interface LongBar {
  readonly bar: Bar;
  readonly node: LineBar;
  /** The bar after it in its row. */
  readonly next: LineBar | null;
  /** The figures under it, where they are written. */
  readonly figures: { readonly node: FigureBar; readonly next: FigureBar | null } | null;
  readonly sizes: readonly number[];
  readonly cellNamed: (name: string) => CellItem | undefined;
}

function barHere({ placed: { phrase }, snapshot, selection }: AssistContext): LongBar | null {
  const bar = phrase.bars.find(({ node, pickup }) => node !== null && !pickup && contains(node.range, selection.start));
  if (bar?.node == null || bar.node.broken) return null;
  const { node } = bar;
  const cellNamed = (name: string): CellItem | undefined => snapshot.definitions.cells.get(name);
  const sizes = node.groups.map((group) => groupBeats(group, cellNamed));
  if (barBeats(node, cellNamed) <= bar.meter.beatCount) return null;
  return { bar, node, next: after(lineRows(phrase), node), figures: figuresUnder(phrase, bar), sizes, cellNamed };
}

function after<B extends LineBar | FigureBar>(rows: readonly { readonly bars: readonly B[] }[], bar: B): B | null {
  const row = rows.find(({ bars }) => bars.includes(bar));
  return row?.bars[row.bars.indexOf(bar) + 1] ?? null;
}

function figuresUnder(phrase: Phrase, bar: Bar): LongBar['figures'] {
  const figure = phrase.figures.find(({ note }) => note !== null && phrase.notes[note]!.bar === bar.number);
  const rows = phrase.item.rows.filter((row): row is DegreesRow => row.kind === 'degrees');
  const node = figure === undefined ? undefined : rows.flatMap(({ bars }) => bars).find(({ range }) => contains(range, figure.range.start));
  return node === undefined ? null : { node, next: after(rows, node) };
}

/** An offer whose result has fewer errors, and no more bars than chords. The device tells the two entries of the menu apart. */
function offer(context: AssistContext, edits: readonly TextEdit[], device: 'bar lines' | 'values', title: string): Offer[] {
  const fresh = sorted(edits);
  const reading = readText(context, applyEdits(context.placed.phrase.text, fresh));
  const isMended =
    reading !== null &&
    count(reading, isError) < count(context.reading, isError) &&
    count(reading, outgrows) <= count(context.reading, outgrows);
  return isMended ? [{ title, device, edits: fresh, repairs: 'bar-length', preferred: false }] : [];
}

function count(reading: Reading, isMeant: (problem: Problem) => boolean): number {
  return [...problemsOf(reading), ...reading.phrase.problems].filter(isMeant).length;
}

const isError = ({ severity }: Problem): boolean => severity === 'error';

/** A new bar has no chords of its own, and moves the bars after it away from theirs. */
const outgrows = ({ rule }: Problem): boolean => rule === 'line-longer-than-chords';

// ── The rest moved ─────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Bar lines where the bars are full. The rest begins the next bar where it has room for it, else a bar of its own, with rests. */
function restMoved(context: AssistContext, { bar: { meter }, node, next, figures, sizes, cellNamed }: LongBar): Offer[] {
  const starts = barStarts(sizes, meter.beatCount);
  if (starts === null) return [];
  const rest = sizes.slice(starts[starts.length - 1]!).reduce((sum, size) => sum + size, 0);
  const lines = starts.map((start) => barLineBefore(node.groups[start]!));
  const figureLines = starts.flatMap((start) =>
    figures?.node.groups[start] === undefined ? [] : [barLineBefore(figures.node.groups[start])],
  );
  const joins =
    next !== null && rest < meter.beatCount && barBeats(next, cellNamed) + rest === meter.beatCount
      ? barLineBetween(context, node, next)
      : null;
  if (joins !== null) {
    const figureJoin = figures?.next == null ? null : barLineBetween(context, figures.node, figures.next);
    return offer(
      context,
      [...lines, joins, ...figureLines, ...(figureJoin === null ? [] : [figureJoin])],
      'bar lines',
      'Move the rest to the next bar',
    );
  }
  const end = { start: node.range.end, end: node.range.end };
  const rests = rest === meter.beatCount ? [] : [{ range: end, text: ' .'.repeat(meter.beatCount - rest) }];
  return offer(
    context,
    [...lines, ...rests, ...figureLines],
    'bar lines',
    `Move the rest to ${starts.length === 1 ? 'a new bar' : 'new bars'}`,
  );
}

/** The groups that begin a new bar; null where a group would stand across a bar line. */
function barStarts(sizes: readonly number[], beats: number): number[] | null {
  const starts: number[] = [];
  let filled = 0;
  for (const [i, size] of sizes.entries()) {
    if (filled === beats) {
      starts.push(i);
      filled = 0;
    }
    filled += size;
    if (filled > beats) return null;
  }
  return starts;
}

function barLineBefore({ range }: Group | FigureGroup): TextEdit {
  return { range: { start: range.start, end: range.start }, text: '| ' };
}

/** Takes away what parts two bars of a line of text; null where they stand on two, for the second needs its bar line there. */
function barLineBetween(
  {
    placed: {
      phrase: { text },
    },
  }: AssistContext,
  first: LineBar | FigureBar,
  second: LineBar | FigureBar,
): TextEdit | null {
  const range = { start: first.range.end, end: second.range.start };
  return /[\r\n]/.test(text.slice(range.start, range.end)) ? null : { range, text: ' ' };
}

// ── Values halved ──────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Pairs of groups from the end, each joined to one of half their length, until the bar is full. */
function valuesHalved(context: AssistContext, { bar: { meter }, node, figures, sizes }: LongBar): Offer[] {
  const { text } = context.placed.phrase;
  let excess = sizes.reduce((sum, size) => sum + size, 0) - meter.beatCount;
  const edits: TextEdit[] = [];
  const shown: string[] = [];
  for (let i = node.groups.length - 2; excess > 0; i -= 2) {
    const [first, second] = [node.groups[i], node.groups[i + 1]];
    if (first?.kind !== 'slots' || second?.kind !== 'slots' || sizes[i] !== sizes[i + 1]) return [];
    const most = leastMultiple(first.slots.length, second.slots.length);
    const slots = [first, second].flatMap((group) => group.slots.map((slot) => lengthened(slot, most / group.slots.length, text)));
    if (slots.length === 0 || most > MOST_SLOTS) return [];
    const weight = first.weight === null ? '' : text.slice(first.weight.range.start, first.weight.range.end);
    const joined = weight + slots.join('-');
    edits.push({ range: { start: first.range.start, end: second.range.end }, text: joined });
    shown.unshift(joined);
    const [above, below] = [figures?.node.groups[i], figures?.node.groups[i + 1]];
    if (above !== undefined && below !== undefined) {
      const figure = ({ slots: own }: FigureGroup, of: number): string =>
        own.map(({ range }) => text.slice(range.start, range.end) + '-*'.repeat(most / of - 1)).join('-');
      const fill = '-*'.repeat(Math.max(0, first.slots.length - above.slots.length) * (most / first.slots.length));
      edits.push({
        range: { start: above.range.start, end: below.range.end },
        text: `${figure(above, first.slots.length)}${fill}-${figure(below, second.slots.length)}`,
      });
    }
    excess -= sizes[i]!;
  }
  return excess < 0 ? [] : offer(context, edits, 'values', `Halve the last values: ${shown.join(' ')}`);
}

/** More notes in half a group than this are no line to be read. */
const MOST_SLOTS = 4;

/** A slot as long as several. */
function lengthened(slot: Slot, times: number, text: string): string {
  return text.slice(slot.range.start, slot.range.end) + (slot.kind === 'rest' ? '-.' : '-~').repeat(times - 1);
}
