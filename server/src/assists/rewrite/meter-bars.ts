/** Bars split in two, or joined by twos: another meter, the same sound. */
import type { OverRow, TextEdit } from '../../../../grammar/tree';
import { meterOf, meterText } from '../../model/time';
import type { Phrase } from '../../model/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { symbolOf, writeChords } from '../writing/changes-text';
import { isAtTitle } from '../writing/phrase-title';
import { rowHere } from '../writing/row-keyword';
import { soundsOf, writeMeasures, type Measure } from '../writing/score';
import { isWhole, lineRows, replacing, rewritten } from '../writing/whole-phrase';

export const meterBars: Assist = {
  id: 'meter-bars',
  kind: 'refactor.rewrite.bars',
  what: 'Splits each bar in two, or joins bars by twos: 4/4 becomes 2/4 and 2/4 becomes 4/4, and nothing sounds otherwise.',
  offers(context) {
    const { phrase } = context.reading;
    if ((!isAtTitle(context) && rowHere(context, 'meter') === null) || !isWhole(phrase)) return [];
    const { meter } = phrase.bars.find(({ number }) => number === 1)!;
    if (meter.compound) return [];
    const split =
      meter.beats % 2 === 0 && meter.beats > 2
        ? inMeter(context, meter.beats / 2, `Split each bar in two: ${meterText({ ...meter, beats: meter.beats / 2 })}`)
        : [];
    const bars = phrase.bars.filter(({ number }) => number > 0).length;
    const join =
      meter.beats <= 3 && bars % 2 === 0
        ? inMeter(context, meter.beats * 2, `Join the bars by twos: ${meterText({ ...meter, beats: meter.beats * 2 })}`)
        : [];
    return [...split, ...join];
  },
};

/** One system of one meter, written with bars of another length. */
function inMeter(context: AssistContext, beats: number, title: string): Offer[] {
  const { phrase } = context.reading;
  const overs = phrase.item.rows.filter((row): row is OverRow => row.kind === 'over');
  const lines = lineRows(phrase);
  const old = phrase.bars.find(({ number }) => number === 1)!.meter;
  const meters = phrase.item.rows.filter((row) => row.kind === 'meter');
  if (overs.length > 1 || lines.length !== 1 || meters.length > 1 || phrase.bars.some(({ meter }) => meter !== old)) return [];
  const meter = meterOf(beats, old.unit);
  if (meter.compound || !meter.beat.equals(old.beat)) return [];
  const last = phrase.bars[phrase.bars.length - 1]!;
  const count = Number(last.onset.add(last.length).div(meter.length).valueOf());
  if (!Number.isInteger(count)) return [];
  const measures: Measure[] = Array.from({ length: count }, (_, i) => ({
    number: i + 1,
    onset: meter.length.mul(i),
    length: meter.length,
    meter,
  }));
  const pickup = phrase.bars[0]!.number === 0 ? phrase.bars[0]! : null;
  if (pickup !== null && pickup.length.compare(meter.length) >= 0) return [];
  const all = pickup === null ? measures : [pickup, ...measures];
  const texts = writeMeasures({ phrase, measures: all, spans: phrase.spans }, soundsOf(phrase));
  if (texts === null) return [];
  const line = pickup === null ? `| ${texts.join(' | ')} |` : `${texts[0]!} | ${texts.slice(1).join(' | ')} |`;
  const chords =
    overs.length === 0
      ? ''
      : writeChords(
          measures,
          phrase.spans.map((span) => ({ onset: span.onset, end: span.end, text: symbolOf(span) })),
        );
  if (chords === null) return [];
  const edits: TextEdit[] = [
    { range: { start: lines[0]!.keyword.range.end, end: lines[0]!.range.end }, text: ` ${line}` },
    ...overs.map((row) => ({ range: { start: row.keyword.range.end, end: row.range.end }, text: ` ${chords}` })),
    meterEdit(phrase, meterText(meter)),
  ];
  const sounds = (one: Phrase): string =>
    one.notes.map((note) => `${note.onset.toFraction()} ${note.duration.toFraction()} ${note.midi}`).join();
  return replacing(context, rewritten(context, edits), title, (after) => sounds(after.phrase) === sounds(phrase));
}

function meterEdit(phrase: Phrase, meter: string): TextEdit {
  const row = phrase.item.rows.find(({ kind }) => kind === 'meter');
  if (row !== undefined) return { range: { start: row.keyword.range.end, end: row.range.end }, text: ` ${meter}` };
  const first = phrase.item.rows.find(({ kind }) => kind === 'over' || kind === 'line')!;
  return { range: { start: first.keyword.range.start, end: first.keyword.range.start }, text: `meter   ${meter}\n  ` };
}
