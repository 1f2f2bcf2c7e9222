import { Fraction } from '../../model/fraction';
import type { OverRow, TextEdit } from '../../../../grammar/tree';
import { settingOf } from '../../analysis/setting';
import type { Phrase } from '../../model/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { symbolOf, writeChords, type TimedSymbol } from '../writing/changes-text';
import { isAtTitle } from '../writing/phrase-title';
import { rowHere } from '../writing/row-keyword';
import { soundsOf, writeMeasures, type Measure, type Sound } from '../writing/score';
import { isWhole, lineRows, replacing, rewritten } from '../writing/whole-phrase';

export const harmonicRhythm: Assist = {
  id: 'harmonic-rhythm',
  kind: 'refactor.rewrite.harmonic-rhythm',
  what: 'Turns a long ii–V–I (a bar a chord) into a short one (ii and V in one bar), the line twice as fast, and back.',
  offers(context) {
    if ((!isAtTitle(context) && rowHere(context, 'over') === null) || !isWhole(context.reading.phrase)) return [];
    const setting = settingOf(context.reading) ?? '';
    if (setting.startsWith('long-ii-v-i'))
      return scaled(context, new Fraction(1, 2), 'Make it a short ii–V–I: ii and V in one bar, the line twice as fast');
    return setting.startsWith('short-ii-v-i')
      ? scaled(context, new Fraction(2), 'Make it a long ii–V–I: a bar a chord, the line half as fast')
      : [];
  },
};

/** One system in one meter: chords and line scaled together, the last bar filled up by its last note. */
function scaled(context: AssistContext, by: Fraction, title: string): Offer[] {
  const { phrase } = context.reading;
  const overs = phrase.item.rows.filter((row): row is OverRow => row.kind === 'over');
  const lines = lineRows(phrase);
  const first = phrase.bars.find(({ number }) => number === 1);
  if (overs.length !== 1 || lines.length !== 1 || first === undefined || phrase.bars.some(({ meter }) => meter !== first.meter)) return [];
  const pickup = phrase.bars[0]!.number === 0 ? phrase.bars[0]! : null;
  const end = phrase.bars[phrase.bars.length - 1]!.onset.add(first.length).mul(by);
  const count = end.div(first.length).ceil();
  const whole = first.length.mul(count);
  const measures: Measure[] = Array.from({ length: Number(count.valueOf()) }, (_, i) => ({
    number: i + 1,
    onset: first.length.mul(i),
    length: first.length,
    meter: first.meter,
  }));
  if (pickup !== null) {
    const length = first.meter.beat.mul(pickup.length.mul(by).div(first.meter.beat).ceil());
    measures.unshift({ number: 0, onset: length.neg(), length, meter: first.meter });
  }
  const sounds = stretched(phrase, by, whole);
  const symbols = phrase.spans.map(
    (span, i): TimedSymbol => ({
      onset: span.onset.mul(by),
      end: i === phrase.spans.length - 1 ? whole : span.end.mul(by),
      text: symbolOf(span),
    }),
  );
  const chords = writeChords(measures, symbols);
  if (chords === null) return [];
  const spans = phrase.spans.map((span, i) => ({ chord: span.chord, onset: symbols[i]!.onset, end: symbols[i]!.end }));
  const texts = writeMeasures({ phrase, measures, spans }, sounds);
  if (texts === null) return [];
  const line = pickup === null ? `| ${texts.join(' | ')} |` : `${texts[0]!} | ${texts.slice(1).join(' | ')} |`;
  const edits = [contentEdit(overs[0]!, chords), contentEdit(lines[0]!, line)];
  const wanted = sounds.map(({ onset, like }) => `${onset.toFraction()} ${like.midi}`).join();
  return replacing(
    context,
    rewritten(context, edits),
    title,
    (after) => after.phrase.notes.map((note) => `${note.onset.toFraction()} ${note.midi}`).join() === wanted,
  );
}

function stretched(phrase: Phrase, by: Fraction, end: Fraction): Sound[] {
  const sounds = soundsOf(phrase).map((sound): Sound => ({ ...sound, onset: sound.onset.mul(by), end: sound.end.mul(by) }));
  const last = sounds[sounds.length - 1]!;
  const ends = phrase.bars[phrase.bars.length - 1]!;
  const rings = last.end.equals(ends.onset.add(ends.length).mul(by));
  return rings ? [...sounds.slice(0, -1), { ...last, end }] : sounds;
}

function contentEdit(
  { keyword, range }: { readonly keyword: { readonly range: TextEdit['range'] }; readonly range: TextEdit['range'] },
  text: string,
): TextEdit {
  return { range: { start: keyword.range.end, end: range.end }, text: ` ${text}` };
}
