/** `line` rows in time: bars, beat groups, slots and notes, and what is wrong with their lengths. */
import { flatMap } from '../../../grammar/flat-map';
import { Fraction } from './fraction';
import { syllable, type Meant } from '../../../grammar/meant';
import type { CellUse, Group, LineBar, NoteNode, Range, Slot, SlotGroup } from '../../../grammar/tree';
import { midi } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import { between, takingAway } from './doubled-bar-lines';
import { findCell, isGrowing, listNames, replacing, report, type BuildContext } from './context';
import { placePitch, type SpanAt } from './place-pitch';
import { barLineOf, earlier, formatBeat, later, meterText, ZERO } from './time';
import type { Bar, Mark, Note, PlacedGroup, PlacedSlot } from './types';

type Growing<T> = { -readonly [K in keyof T]: T[K] };
type GrowingNote = Growing<Omit<Note, 'holds'>> & { holds: Note['holds'][number][] };

/** The melody of a phrase as it grows from bar to bar. */
export interface LineInProgress {
  readonly notes: GrowingNote[];
  readonly groups: PlacedGroup[];
  /** The pitch that the next note without an octave is measured from. */
  previous: Pitch | null;
  /** What stands just before in time: a `~` lengthens a note, and needs one. */
  before: 'note' | 'rest' | 'nothing' | 'unread';
}

/** A beat group whose length is known in beats, its cell (if it is one) written out. */
interface Measured {
  readonly beats: Fraction;
  readonly weighted: boolean;
  readonly range: Range;
  readonly slots: readonly Slot[];
  readonly cell: CellUse | null;
  readonly first: boolean; // of its cell
}

/** One bar being laid: the bar, the melody so far, the harmony over it, and where problems go. */
interface Laying {
  readonly bar: Bar;
  readonly line: LineInProgress;
  readonly spanAt: SpanAt;
  readonly context: BuildContext;
}

const ONE = new Fraction(1);

/** Lays one bar; `bar.length` is kept whatever is written. A pickup is counted back from the bar line. */
export function layLineBar(node: LineBar, laying: Laying): void {
  const { bar, context } = laying;
  const measured = measure(node.groups, context);
  const lengths = groupLengths(node, measured, bar, context);
  const barEnd = bar.onset.add(bar.length);
  let onset = bar.pickup ? later(bar.onset, barEnd.sub(sum(lengths))) : bar.onset;
  measured.forEach((group, index) => {
    const end = earlier(onset.add(lengths[index]!), barEnd);
    if (onset.compare(barEnd) < 0) layGroup(group, index, onset, end.sub(onset), laying);
    onset = end;
  });
}

function sum(lengths: readonly Fraction[]): Fraction {
  return lengths.reduce((all, length) => all.add(length), ZERO);
}

function measure(groups: readonly Group[], context: BuildContext): Measured[] {
  return flatMap(groups, (group) => (group.kind === 'slots' ? [measuredGroup(group)] : writeOut(group, context)));
}

function measuredGroup(group: SlotGroup): Measured {
  return {
    beats: group.weight === null ? ONE : new Fraction(group.weight.beats),
    weighted: group.weight !== null,
    range: group.range,
    slots: group.slots,
    cell: null,
    first: true,
  };
}

function writeOut(use: CellUse, context: BuildContext): Measured[] {
  const cell = findCell(context, use.name.text);
  const factor = use.weight?.beats ?? 1;
  if (cell === undefined) {
    undefinedCell(use, context);
    return [
      {
        beats: new Fraction(factor),
        weighted: use.weight !== null,
        range: use.range,
        slots: [{ kind: 'bad', range: use.range }],
        cell: use,
        first: true,
      },
    ];
  }
  return cell.groups.map((group, i) => ({
    beats: new Fraction((group.weight?.beats ?? 1) * factor),
    weighted: use.weight !== null || group.weight !== null,
    range: use.range,
    slots: group.kind === 'slots' ? group.slots : [{ kind: 'bad', range: group.range }],
    cell: use,
    first: i === 0,
  }));
}

function undefinedCell(use: CellUse, context: BuildContext): void {
  const { text, range } = use.name;
  const meant: Meant | null = text === 'r' || text === 'rest' ? { says: 'A rest is written with a dot.', offers: ['.'] } : syllable(text);
  const offers = meant?.offers ?? [];
  report(context, 'undefined-name', 'error', range, {
    facts: { name: text, kind: 'cell', known: listNames(context, 'cells'), says: meant?.says ?? '' },
    fixes: offers.map((offer) => replacing(range, offer, `Write ${offer}`)),
  });
}

/** The length of each group in quarters; a bar that does not add up takes its weights as they are. */
function groupLengths(node: LineBar, groups: readonly Measured[], bar: Bar, context: BuildContext): Fraction[] {
  const { beat, beatCount } = bar.meter;
  const weighted = groups.some((group) => group.weighted);
  const isEven = !weighted && groups.length > 0 && beatCount % groups.length === 0;
  // As most bars are; one that grows takes its groups for beats.
  if (isEven && !bar.pickup && !isGrowing(context, node)) return equalLengths(bar, groups.length);
  const asWritten = groups.map((group) => group.beats.mul(beat));
  const total = sum(groups.map((group) => group.beats));
  const unknowable = node.broken || groups.some((group) => group.slots.some((slot) => slot.kind === 'bad'));
  if (bar.pickup) {
    // The bar before may be of a shorter meter than the line that the pickup leads into.
    if (!unknowable && total.compare(bar.length.div(beat)) > 0) barLength(node, total, bar, context);
    return asWritten;
  }
  const fits = weighted ? total.equals(beatCount) : isEven;
  // A bar that grows takes its groups for beats: two of four are not two half notes.
  if (isGrowing(context, node) && total.compare(beatCount) < 0) return asWritten;
  if (fits) return weighted ? asWritten : equalLengths(bar, groups.length);
  if (!unknowable) barLength(node, total, bar, context);
  return asWritten;
}

function equalLengths({ length }: Bar, count: number): Fraction[] {
  return Array<Fraction>(count).fill(length.div(count));
}

function barLength(node: LineBar, written: Fraction, bar: Bar, context: BuildContext): void {
  const missing = new Fraction(bar.meter.beatCount).sub(written);
  const facts = {
    bar: bar.number,
    holds: bar.meter.beatCount,
    written: written.toFraction(),
    meter: meterText(bar.meter),
    short: missing.compare(0) > 0 ? 'yes' : 'no',
  };
  if (node.groups.length === 0) {
    const rest = replacing(node.range, ' . ', 'Write a rest for the bar');
    report(context, 'bar-length', 'error', between(node), { facts, fixes: [rest, ...takingAway(node)] });
    return;
  }
  const at = { start: node.range.end, end: node.range.end };
  const rests = Array<string>(Math.max(0, Number(missing.valueOf())))
    .fill(' .')
    .join('');
  report(context, 'bar-length', 'error', node.range, {
    facts,
    fixes: facts.short === 'yes' ? [{ title: 'Fill the bar with rests', safe: false, edits: [{ range: at, text: rests }] }] : [],
  });
}

function layGroup(group: Measured, index: number, onset: Fraction, duration: Fraction, laying: Laying): void {
  const { bar, line } = laying;
  const length = duration.div(Math.max(1, group.slots.length));
  let at = onset;
  const slots = group.slots.map((slot, i): PlacedSlot => {
    const opensCell = group.cell !== null && group.first && i === 0;
    const note = laySlot({ slot, onset: at, duration: length, group, opensCell }, laying);
    const placed: PlacedSlot = {
      kind: slot.kind === 'note' && note === null ? 'bad' : slot.kind,
      onset: at,
      duration: length,
      range: group.cell === null ? slot.range : group.range,
      note,
    };
    at = at.add(length);
    return placed;
  });
  line.groups.push({
    bar: bar.number,
    onset,
    duration,
    range: group.range,
    index,
    slots,
    cell: group.cell?.name.text ?? null,
    beats: duration.div(bar.meter.beat),
    weighted: group.weighted,
  });
}

/** A slot with its time, and the group it stands in. */
interface TimedSlot {
  readonly slot: Slot;
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly group: Measured;
  /** The first slot of a cell: a direction before the cell's name is meant for it. */
  readonly opensCell: boolean;
}

/** Lays a slot and says which note sounds in it. */
function laySlot(timed: TimedSlot, laying: Laying): number | null {
  switch (timed.slot.kind) {
    case 'rest':
      laying.line.before = 'rest';
      return null;
    case 'bad':
      laying.line.before = 'unread';
      return null;
    case 'hold':
      return layHold(timed, laying);
    case 'note':
      return layNote(timed.slot, timed, laying);
  }
}

function layHold({ slot, onset, duration, group }: TimedSlot, { line, context }: Laying): number | null {
  const place = group.cell === null ? slot.range : group.range;
  if (line.before === 'note') {
    const note = line.notes[line.notes.length - 1]!;
    note.duration = note.duration.add(duration);
    note.holds.push({ range: place, onset, duration });
    return note.index;
  }
  if (line.before !== 'unread') {
    report(context, 'hold-without-note', 'error', place, {
      fixes: group.cell === null ? [replacing(place, '.', 'Write a rest', true)] : [],
    });
  }
  return null;
}

function layNote(node: NoteNode, { onset, duration, group, opensCell }: TimedSlot, { bar, line, spanAt, context }: Laying): number | null {
  const direction = opensCell && group.cell!.direction !== null ? group.cell!.direction : node.direction;
  const place = group.cell === null ? node.range : group.range;
  const span = spanAt(onset);
  const pitch = placePitch(
    { node, index: line.notes.length, direction, place, span, previous: line.previous, inCell: group.cell !== null },
    context,
  );
  if (pitch === null) {
    line.before = 'unread';
    return null;
  }
  const index = line.notes.length;
  line.notes.push({
    index,
    onset,
    duration,
    pitch,
    midi: midi(pitch),
    marks: marksOf(node),
    bar: bar.number,
    beat: beatOf(onset, bar),
    range: place,
    node,
    direction,
    cell: group.cell === null ? null : { name: group.cell.name.text, range: node.range },
    holds: [],
    span: span?.index ?? null,
  });
  line.previous = pitch;
  line.before = 'note';
  return index;
}

/** The beat of a time in its bar; a pickup counts as the end of a whole bar. */
export function beatOf(onset: Fraction, bar: Bar): string {
  const barLine = barLineOf(bar);
  return formatBeat(onset.sub(barLine), bar.meter);
}

const NO_MARKS: readonly Mark[] = [];

function marksOf(node: NoteNode): readonly Mark[] {
  // One list for all notes without marks: a file has tens of thousands.
  if (!node.intended && !node.accent && !node.shortAccent && !node.ghost) return NO_MARKS;
  const marks: Mark[] = [];
  if (node.intended) marks.push('intended');
  if (node.accent) marks.push('accent');
  if (node.shortAccent) marks.push('short-accent');
  if (node.ghost) marks.push('ghost');
  return marks;
}
