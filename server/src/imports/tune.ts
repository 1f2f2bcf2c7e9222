/** A tune bar by bar as it is played: repeats written out, split bars joined, ties joined, short bars filled. */
import type { Fraction } from '../model/fraction';
import { later, meterText, ZERO } from '../model/time';
import { midi } from '../theory/pitch';
import { meterOfLength, refuseTooManyNotes } from './measures';
import { playingOrder, withCodaSigns, type Played } from './order';
import type { Report } from './report';
import { splitMeasures } from './split';
import type { Feel, SourceMeasure, Tempo, Tune, TuneBar, TuneChord, TuneNote } from './types';
import { formatKey } from '../theory/key';
import type { Key } from '../theory/types';

/** A measure where it is played. */
interface Turn {
  readonly source: SourceMeasure;
  /** What is written in it lasts so long; the meter's length where nothing is. */
  readonly written: Fraction;
  readonly cut: TuneBar['cut'];
  readonly isTiedInto: boolean;
  readonly tempo: Tempo | null;
  readonly feel: Feel | null;
}

/** A bar before it has its time: one measure, or two that make up one bar. */
interface Shape {
  readonly turns: readonly Turn[];
  readonly meter: SourceMeasure['meter'];
  readonly length: Fraction;
  readonly isPickup: boolean;
}

export function tuneOf(measures: readonly SourceMeasure[], report: Report): Tune {
  const marked = withCodaSigns(splitMeasures(measures));
  const turns = turnsOf(marked, playingOrder(marked, report));
  const bars: TuneBar[] = [];
  const notes: TuneNote[] = [];
  const chords: TuneChord[] = [];
  let at = ZERO;
  for (const { turns: own, meter, length, isPickup } of shapesOf(turns, report)) {
    const [first] = own;
    bars.push({
      onset: at,
      length,
      meter,
      isPickup,
      cut: first!.cut,
      isTiedInto: first!.isTiedInto,
      source: first!.source,
      tempo: first!.tempo,
      feel: first!.feel,
    });
    let within = at;
    for (const { source, written } of own) {
      refuseTooManyNotes(notes.length + source.notes.length);
      notes.push(...source.notes.map((note) => ({ ...note, onset: note.onset.add(within) })));
      for (const chord of source.chords) {
        const onset = chord.onset.add(within);
        if (onset.compare(at.add(length)) < 0) chords.push({ ...chord, onset });
        else report.leftOut(`the chord ${chord.symbol}, which is set after the end of its bar`, chord.measure);
      }
      within = within.add(written);
    }
    at = at.add(length);
  }
  return { bars, notes: tied(notes, report), chords };
}

function turnsOf(measures: readonly SourceMeasure[], order: readonly Played[]): Turn[] {
  let tempo: Tempo | null = null;
  let feel: Feel | null = measures[0]?.feel ?? null;
  return order.map(({ measure, isJumpedTo }, i): Turn => {
    const source = measures[measure]!;
    const before = i === 0 ? null : measures[order[i - 1]!.measure]!;
    tempo = source.tempo ?? tempo;
    feel = source.feel ?? feel;
    const isTiedInto = before !== null && isTied(before, source);
    const must = before !== null && keyText(before.key) !== keyText(source.key);
    const may =
      before !== null &&
      (source.opens ||
        isJumpedTo ||
        before.part !== source.part ||
        before.meter.beats !== source.meter.beats ||
        before.meter.unit !== source.meter.unit);
    return {
      source,
      written: source.length.equals(0) ? source.meter.length : source.length,
      cut: must ? 'must' : may && !isTiedInto ? 'may' : null,
      isTiedInto,
      tempo,
      feel,
    };
  });
}

function keyText(key: Key | null): string {
  return key === null ? '' : formatKey(key);
}

function isTied(before: SourceMeasure, after: SourceMeasure): boolean {
  const last = before.notes[before.notes.length - 1];
  const first = after.notes[0];
  return (
    last !== undefined &&
    first !== undefined &&
    first.onset.equals(0) &&
    last.onset.add(last.length).equals(before.length) &&
    joins(last, first)
  );
}

function joins(from: TuneNote, to: TuneNote): boolean {
  return from.tie.from && to.tie.to && midi(from.pitch) === midi(to.pitch);
}

/** Bars as the language has them: each as long as its meter, but for a pickup at the start of a passage. */
function shapesOf(turns: readonly Turn[], report: Report): Shape[] {
  const shapes: Shape[] = [];
  for (let i = 0; i < turns.length; i += 1) {
    const turn = turns[i]!;
    const { source, written } = turn;
    const { meter } = source;
    const next = turns[i + 1];
    const alone = (length: Fraction, own = meter, isPickup = false): number => shapes.push({ turns: [turn], meter: own, length, isPickup });
    if (written.equals(meter.length)) alone(meter.length);
    else if (written.compare(meter.length) > 0) irregular(turn, shapes, report);
    else if (isPickup(turn, source === turns[0]!.source, shapes[shapes.length - 1])) alone(written, meter, true);
    else if (
      next !== undefined &&
      written.add(next.written).equals(meter.length) &&
      next.source.meter.length.equals(meter.length) &&
      next.cut === null
    ) {
      shapes.push({ turns: [turn, next], meter, length: meter.length, isPickup: false });
      i += 1;
    } else if (source.implicit && next !== undefined && next.cut === null) irregular(turn, shapes, report);
    else {
      // The last bar of a passage is short where a pickup makes up for it.
      if (next !== undefined && next.cut === null)
        report.decided('a bar that is shorter than its meter is filled with a rest', source.number);
      alone(meter.length);
    }
  }
  return shapes;
}

/** A short measure leads in at the start of the tune, each time it is played; later where it starts a passage and does not count, or makes up for the short bar before. */
function isPickup({ source, cut, written }: Turn, isFirst: boolean, before: Shape | undefined): boolean {
  if (isFirst) return true;
  const last = before?.turns[before.turns.length - 1];
  const madeUp =
    last !== undefined && last.written.compare(source.meter.length) < 0 && last.written.add(written).equals(source.meter.length);
  return cut !== null && (source.implicit || madeUp);
}

/** A bar of another length than its meter's keeps that length, in a meter of its own. */
function irregular(turn: Turn, shapes: Shape[], report: Report): void {
  const { source, written } = turn;
  const own = meterOfLength(written);
  if (own !== null) {
    report.decided(`a bar that lasts ${lengthText(written)} is written ${meterText(own)}`, source.number);
    shapes.push({ turns: [turn], meter: own, length: own.length, isPickup: false });
    return;
  }
  const sixteenths = written.mul(4).ceil();
  const filled = meterOfLength(sixteenths.div(4)) ?? source.meter;
  report.leftOut(
    `the length of a bar (${lengthText(written)}), which is no meter of the language: it is written ${meterText(filled)}`,
    source.number,
  );
  shapes.push({ turns: [turn], meter: filled, length: filled.length, isPickup: false });
}

function lengthText(length: Fraction): string {
  return `${length.toFraction(true)} quarters`;
}

/** Notes in order, those that are tied as one. Where bars were cut short, what hangs over is cut off. */
function tied(notes: readonly TuneNote[], report: Report): TuneNote[] {
  const joined: TuneNote[] = [];
  for (const note of notes) {
    const last = joined[joined.length - 1];
    if (last !== undefined && joins(last, note) && last.onset.add(last.length).equals(note.onset)) {
      joined[joined.length - 1] = { ...last, length: last.length.add(note.length), tie: { from: note.tie.from, to: last.tie.to } };
      continue;
    }
    if (last?.tie.from === true) report.leftOut('a tie that leads to no note of the same pitch', last.measure);
    if (last !== undefined && last.onset.add(last.length).compare(note.onset) > 0)
      joined[joined.length - 1] = { ...last, length: later(ZERO, note.onset.sub(last.onset)) };
    joined.push(note);
  }
  return joined.filter(({ length }) => length.compare(0) > 0);
}
