/** From a phrase's tree to the phrase in exact time. Nothing here throws; what is wrong is reported. */
import { flatMap } from '../../../grammar/flat-map';
import type { Fraction } from './fraction';
import { paragraphsOf } from '../../../grammar/paragraphs';
import { barBeats, firstBarIs, systemsOf, type SystemRows } from '../../../grammar/systems';
import type { CellItem, DegreesRow, LineBar, ParsedSlice, PhraseItem, Row } from '../../../grammar/tree';
import { CONCERT, nearestPartNames, partByName, PARTS } from '../theory/part';
import type { Key, Part } from '../theory/types';
import { reportLineAbove, type LaidSystem } from './above-chords';
import { findCell, noUses, replacing, report, type BuildContext, type Uses } from './context';
import { withoutDoubled } from './doubled-bar-lines';
import { holdLast, layOver, type HarmonyInProgress } from './harmony';
import { layLineBar, type LineInProgress } from './line';
import { lineEndsAt, type LineEnd } from './line-end';
import { reportIdleMeter } from './idle-meter';
import { eachChordABar, partedBars, reportMissingBarLines, withChordBarLines } from './missing-bar-lines';
import { tellOnceOfMeter } from './other-meter';
import { pairRows, placeFigures, type LaidRow } from './numbering';
import { spanFinder } from './place-pitch';
import { later, meterOf, meterText, ZERO } from './time';
import type { Bar, Definitions, Meter, Phrase, System, Tempo, WrittenFigure } from './types';

/** A phrase, and what it asked the definitions for (it stays valid while the answers stay the same). */
export interface Built {
  readonly phrase: Phrase;
  readonly uses: Uses;
}

/** `writtenAt` are the offsets in the slice at which somebody is writing, as far as is known. */
export function buildPhrase(slice: ParsedSlice, item: PhraseItem, definitions: Definitions, writtenAt: readonly number[] = []): Built {
  const uses = noUses();
  const key = keyOf(item);
  const problems: BuildContext['problems'] = [];
  const part = partOf(item, { text: slice.text, definitions, uses, key, part: CONCERT, problems, ends: [] });
  const ends = lineEndsAt(item, writtenAt);
  const context: BuildContext = { text: slice.text, definitions, uses, key, part, problems, ends };
  const music = layMusic(item, context);
  return {
    uses,
    phrase: {
      item,
      text: slice.text,
      key,
      part,
      problems,
      // Field by field: copying one object into another takes many times as long.
      systems: music.systems,
      bars: music.bars,
      spans: music.spans,
      notes: music.notes,
      groups: music.groups,
      figures: music.figures,
      writing: ends.filter((end) => !isWhole(end, music, problems)).map(({ writing }) => writing),
      name: item.title?.value ?? '',
      tempo: tempoOf(item),
      level: lastOf(item, 'level')?.level ?? null,
      tags: flatMap(item.rows, (row) => (row.kind === 'tag' ? row.tags.map((tag) => tag.text) : [])),
      says: paragraphsOf(item.rows, slice.text),
      claims: flatMap(item.rows, (row) =>
        row.kind === 'claim' ? [{ range: row.range, words: row.words, text: row.words.map((word) => word.text).join(' ') }] : [],
      ),
    },
  };
}

/** Whether no more of a line is to come: `||` closes it, or a bar line does, and it is as long as its chords. A vamp goes on as long as one likes. */
function isWhole({ last, growing, writing: { over } }: LineEnd, { bars, systems }: Music, problems: BuildContext['problems']): boolean {
  if (last === null || growing !== null) return false;
  if (last.double) return true;
  const bar = bars.find(({ node }) => node === last);
  const isVamp = bar === undefined || systems[bar.system]!.vamp;
  return (
    over !== null &&
    !isVamp &&
    !problems.some(
      ({ rule, range }) =>
        (rule === 'line-shorter-than-chords' || rule === 'empty-chord-bar') && over.start <= range.start && range.start < over.end,
    )
  );
}

// ── Properties ─────────────────────────────────────────────────────────────────────────────────────────────────────────────

function lastOf<K extends Row['kind']>(item: PhraseItem, kind: K): Extract<Row, { kind: K }> | undefined {
  // A loop: asked of every phrase of a file several times.
  for (let i = item.rows.length - 1; i >= 0; i -= 1) {
    const row = item.rows[i]!;
    if (row.kind === kind) return row as Extract<Row, { kind: K }>;
  }
  return undefined;
}

function keyOf(item: PhraseItem): Key | null {
  const row = lastOf(item, 'key');
  return row?.tonic == null || row.mode === null ? null : { tonic: { letter: row.tonic.letter, alter: row.tonic.alter }, mode: row.mode };
}

function tempoOf(item: PhraseItem): Tempo {
  const row = lastOf(item, 'tempo');
  return { bpm: row?.bpm ?? 120, feel: row?.feel ?? 'swing', ratio: row?.ratio ?? null };
}

function partOf(item: PhraseItem, context: BuildContext): Part {
  const row = lastOf(item, 'part');
  if (row?.name == null) return context.part;
  const part = partByName(row.name.text);
  if (part !== null) return part;
  const near = nearestPartNames(row.name.text);
  report(context, 'unknown-part', 'error', row.name.range, {
    facts: { name: row.name.text.slice(0, 40), suggestions: near.join(', '), known: PARTS.map(({ name }) => name).join(', ') },
    fixes: near.map((name) => replacing(row.name!.range, name, `Write ${name}`)),
  });
  return context.part;
}

// ── Music ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

type Music = Pick<Phrase, 'systems' | 'bars' | 'spans' | 'notes' | 'groups' | 'figures'>;

function layMusic(item: PhraseItem, context: BuildContext): Music {
  const harmony: HarmonyInProgress = { spans: [], lastBar: null };
  const line: LineInProgress = { notes: [], groups: [], previous: null, before: 'nothing' };
  const systems: System[] = [];
  const laidSystems: LaidSystem[] = [];
  const bars: Bar[] = [];
  const figures: WrittenFigure[] = [];
  let onset = ZERO;
  // Bars in one meter share it, so that a change of meter can be told by comparing them.
  const meters = new Map<string, Meter>();
  const meterNamed = (written: SystemRows['meter']): Meter => {
    const meter = meters.get(meterText(written)) ?? meterOf(written.beats, written.unit);
    meters.set(meterText(written), meter);
    return meter;
  };
  const written = systemsOf(item.rows);
  const first = firstLineOf(written);
  const drafts = written.map((draft) => withChordBarLines(withoutDoubled(draft, first, context), first, context));
  const firstLine = firstLineOf(drafts);
  for (const draft of drafts) {
    const start = onset;
    const meter = meterNamed(draft.meter);
    const over = draft.over === null ? null : layOver(draft.over, start, meter, harmony, context);
    const vamp = over === null || over.vamp;
    const laid = layLines(
      { draft, meter, index: systems.length, start, firstLine, bars, line, harmony, overBars: over?.bars ?? null, vamp },
      context,
    );
    figures.push(...laid.figures);
    onset = later(laid.end, start.add(meter.length.mul(over?.bars ?? 0)));
    fillBars(bars, start, onset, meter, systems.length);
    holdLast(harmony, onset);
    compareLengths(draft, laid.lineBars, over?.bars ?? null, vamp, context);
    systems.push({ index: systems.length, onset: start, end: onset, vamp });
    laidSystems.push({ over: draft.over, rows: draft.rows, overBars: over?.bars ?? 0, lineBars: laid.lineBars.length });
  }
  reportLineAbove(item.rows, laidSystems, context);
  reportIdleMeter(item.rows, context);
  if (context.problems.length > 0) {
    tellOnceOfKey(item, context);
    tellOnceOfMeter(item, bars, drafts, context);
  }
  return { systems, bars, spans: harmony.spans, notes: line.notes, groups: line.groups, figures };
}

function firstLineOf(drafts: readonly SystemRows[]): Row | undefined {
  for (const { rows } of drafts) for (const row of rows) if (row.kind === 'line') return row;
  return undefined;
}

interface LineLaying {
  readonly draft: SystemRows;
  readonly meter: Meter;
  readonly index: number;
  readonly start: Fraction;
  /** The row that may begin with a pickup. */
  readonly firstLine: Row | undefined;
  readonly bars: Bar[];
  readonly line: LineInProgress;
  readonly harmony: HarmonyInProgress;
  readonly overBars: number | null;
  readonly vamp: boolean;
}

function layLines(laying: LineLaying, context: BuildContext): { end: Fraction; figures: WrittenFigure[]; lineBars: LineBar[] } {
  const { draft, meter, bars, line, harmony } = laying;
  const spanAt = spanFinder(harmony.spans);
  const parted = partedBars(draft, laying.overBars, laying.firstLine, (name) => findCell(context, name));
  // Told at the first of the bars that such a one is.
  const lacking = new Map([...parted.values()].map((several) => [several.parts[0]!, several]));
  const lineBars: LineBar[] = [];
  const figures: WrittenFigure[] = [];
  let end = laying.start;
  let lines: LaidRow[] = [];
  let rows: DegreesRow[] = [];
  const settle = (): void => {
    if (rows.length === 0) return;
    for (const { row, bars: under } of pairRows(lines, rows)) figures.push(...placeFigures(row, under, line.groups, context));
    lines = [];
    rows = [];
  };
  for (const row of draft.rows) {
    if (row.kind === 'degrees') {
      rows.push(row);
      continue;
    }
    settle();
    const laid: Bar[] = [];
    row.bars
      .flatMap((node) => parted.get(node)?.parts ?? [node])
      .forEach((node, i) => {
        const pickup = row === laying.firstLine && i === 0 ? pickupBar(node, laying, context) : null;
        const bar: Bar = pickup ?? {
          number: nextNumber(bars),
          onset: end,
          length: meter.length,
          meter,
          pickup: false,
          system: laying.index,
          node,
        };
        if (pickup !== null && pickup.number > 0) bars[bars.length - 1] = bar;
        else bars.push(bar);
        laid.push(bar);
        const several = lacking.get(node);
        if (several !== undefined) reportMissingBarLines(several, bar, context);
        layLineBar(node, { bar, line, spanAt, context });
        if (pickup === null) {
          end = end.add(bar.length);
          lineBars.push(node);
        }
      });
    lines.push({ bars: laid });
  }
  settle();
  return { end, figures, lineBars };
}

function nextNumber(bars: readonly Bar[]): number {
  return (bars[bars.length - 1]?.number ?? 0) + 1;
}

/**
 * The bar of the pickup that a first bar without an opening bar line is; null where it is a whole bar after all. Where chords sound
 * before the line, the pickup sounds over the last of them: the bar that they fill is its bar, and keeps its number.
 */
function pickupBar(node: LineBar, { draft, meter, index, start, bars }: LineLaying, context: BuildContext): Bar | null {
  const cellNamed = (name: string): CellItem | undefined => findCell(context, name);
  const kind = firstBarIs(node, draft.meter, cellNamed);
  if (kind === 'open') return null;
  const beats = barBeats(node, cellNamed);
  if (kind === 'pickup') {
    const before = bars[bars.length - 1];
    if (before !== undefined) return { ...before, pickup: true, node };
    const length = meter.beat.mul(beats);
    return { number: 0, onset: start.sub(length), length, meter, pickup: true, system: index, node };
  }
  const at = { start: node.range.start, end: node.range.start };
  report(context, 'pickup-fills-bar', 'information', node.range, {
    facts: { beats, meter: meterText(meter), bar: nextNumber(bars) },
    fixes: [{ title: 'Write the bar line before it', safe: true, edits: [{ range: at, text: '| ' }] }],
  });
  return null;
}

/** That numerals lack a key is told at the first of them, and not where the key that is written cannot be read: that is told there. */
function tellOnceOfKey(item: PhraseItem, { problems }: BuildContext): void {
  const hasKey = lastOf(item, 'key') !== undefined;
  const first = problems.find(({ rule }) => rule === 'numeral-without-key');
  const kept = problems.filter((problem) => problem.rule !== 'numeral-without-key' || (problem === first && !hasKey));
  problems.splice(0, problems.length, ...kept);
}

/** Bars that only the chords fill: the line rests there. */
function fillBars(bars: Bar[], start: Fraction, end: Fraction, meter: Meter, system: number): void {
  const last = bars[bars.length - 1];
  let onset = last !== undefined && last.system === system && last.number > 0 ? last.onset.add(last.length) : start;
  while (onset.compare(end) < 0) {
    bars.push({ number: nextNumber(bars), onset, length: meter.length, meter, pickup: false, system, node: null });
    onset = onset.add(meter.length);
  }
}

function compareLengths(
  draft: SystemRows,
  lineBars: readonly LineBar[],
  overBars: number | null,
  vamp: boolean,
  context: BuildContext,
): void {
  if (overBars === null || lineBars.length === 0 || overBars === 0) return;
  const facts = { chords: overBars, line: lineBars.length };
  const extra = lineBars[overBars];
  const empty = lineBars.filter(({ groups }) => groups.length === 0).length;
  // Bars that hold nothing are told of: the line is longer by no others.
  if (extra !== undefined && !vamp && lineBars.length - overBars > empty) {
    const each = eachChordABar(draft, lineBars.length);
    report(
      context,
      'line-longer-than-chords',
      'warning',
      extra.range,
      each === null ? { facts } : { facts: { ...facts, each: 'yes' }, fixes: [each] },
    );
  }
  const emptyChords = draft.over!.bars.filter(({ shares }) => shares.length === 0).length;
  if (overBars - lineBars.length > emptyChords)
    report(context, 'line-shorter-than-chords', 'information', draft.over!.keyword.range, { facts });
}
