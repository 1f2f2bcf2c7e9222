/** A line with other sounds in some of its bars: those in which nothing changes stay exactly as they are written. */
import type { Fraction } from '../../model/fraction';
import { applyEdits } from '../../../../grammar/printer';
import type { FigureBar, LineBar, TextEdit } from '../../../../grammar/tree';
import { barsUnder, pairRows } from '../../model/numbering';
import { lastNotAfter } from '../../model/time';
import type { Bar, Phrase } from '../../model/types';
import { midi } from '../../theory/pitch';
import type { AssistContext } from '../assist';
import { barFigures } from './degrees-row';
import { laidOutAs } from './phrase-title';
import { landsAt } from './plan';
import { measuresOf, noteText, soundingIn, soundsOf, writeMeasures, type Measure, type Sheet, type Sound } from './score';
import { barEdits, lineRows, readText, sorted } from './whole-phrase';

/** The phrase with another line over the same chords; null where that cannot be written. Figures of a `degrees` row follow. */
export function lineText(context: AssistContext, sounds: readonly Sound[]): string | null {
  const { phrase } = context.reading;
  const changed = changedBars(phrase, sounds);
  const edits = lineEdits({ phrase, measures: measuresOf(phrase), spans: phrase.spans }, sounds, changed);
  if (edits === null) return null;
  const bare = applyEdits(phrase.text, sorted(edits));
  const figures = figureEdits(context, bare, changed);
  return figures === null ? null : laidOutAs(phrase.text, applyEdits(phrase.text, sorted([...edits, ...figures])));
}

/** The edits of a line with other sounds over other chords; null where it cannot be written. A bar of degrees says something else over them. */
export function lineEditsOver(phrase: Phrase, sounds: readonly Sound[], spans: Sheet['spans']): TextEdit[] | null {
  const changed = changedBars(phrase, sounds);
  const degrees = phrase.notes
    .filter(({ node }) => node.head.kind === 'degree')
    .map(({ bar }) => phrase.bars.findIndex(({ number }) => number === bar));
  return lineEdits({ phrase, measures: measuresOf(phrase), spans }, sounds, new Set([...changed, ...degrees]));
}

/** Indexes into `phrase.bars` of those that do not sound as they did. */
function changedBars(phrase: Phrase, sounds: readonly Sound[]): Set<number> {
  const before = soundsOf(phrase);
  const changed = measuresOf(phrase).flatMap((measure, i) => (heard(measure, before) === heard(measure, sounds) ? [] : [i]));
  return new Set(changed);
}

/** What sounds in a bar, its name and marks, where it starts and ends there. */
function heard({ onset, length }: Measure, sounds: readonly Sound[]): string {
  const end = onset.add(length);
  const inside = soundingIn(sounds, onset, end).map(({ sound }) => sound);
  const clipped = (time: Fraction): string => (time.compare(onset) < 0 ? '<' : time.compare(end) >= 0 ? '>' : time.toFraction());
  return inside
    .map(
      (sound) => `${clipped(sound.onset)} ${clipped(sound.end)} ${midi(sound.pitch)} ${sound.pitch.letter} ${sound.like.marks.join('+')}`,
    )
    .join(', ');
}

/** The edits of the line. A first note that its bar's text would now place elsewhere gets what places it, and no more. */
function lineEdits(sheet: Sheet, sounds: readonly Sound[], changed: Set<number>): TextEdit[] | null {
  const { phrase } = sheet;
  const edits: TextEdit[] = [];
  for (const [i, { onset, length }] of sheet.measures.entries()) {
    if (changed.has(i)) continue;
    const first = soundingIn(sounds, onset, onset.add(length)).find(({ sound }) => sound.onset.compare(onset) >= 0)?.index;
    if (first === undefined) continue;
    // What sounds as it did may come from elsewhere in the line: as it is written counts.
    const like = phrase.notes[lastNotAfter(phrase.notes, sounds[first]!.onset)]!;
    const previous = sounds[first - 1]?.pitch ?? null;
    if (previous === null ? like.index === 0 || landsAt(like, null) : landsAt(like, previous)) continue;
    const text = like.cell === null ? noteText(sheet, { ...sounds[first]!, like }, previous) : null;
    // A cell holds no octave figure: it is written out.
    if (like.cell !== null) changed.add(i);
    else if (text === null) return null;
    else edits.push({ range: like.node.range, text });
  }
  const bars = [...changed].sort((a, b) => a - b);
  const texts = writeMeasures({ ...sheet, measures: bars.map((i) => sheet.measures[i]!) }, sounds);
  if (texts === null) return null;
  const byBar = new Map(bars.map((bar, i) => [bar, texts[i]!]));
  return [
    ...edits,
    ...barEdits(
      phrase,
      sheet.measures.map((_, i) => byBar.get(i) ?? null),
    ),
  ];
}

/** New figures under the bars that changed; null where the new line cannot be read. */
function figureEdits(context: AssistContext, text: string, changed: ReadonlySet<number>): TextEdit[] | null {
  const { phrase } = context.reading;
  const figures = figureBars(phrase);
  if (figures.length === 0) return [];
  const after = readText(context, text);
  if (after === null) return null;
  return figures.flatMap(({ node, bar }): TextEdit[] => {
    const index = phrase.bars.indexOf(bar);
    const fresh = after.phrase.bars[index];
    if (!changed.has(index) || fresh === undefined) return [];
    const { start, end } = node.range;
    return [{ range: { start, end }, text: start === end ? ` ${barFigures(fresh, after)} ` : barFigures(fresh, after) }];
  });
}

/** The bars of `degrees` rows, each with the bar of the line it numbers. */
function figureBars(phrase: Phrase): { readonly node: FigureBar; readonly bar: Bar }[] {
  const barOf = new Map(phrase.bars.map((bar): [LineBar | null, Bar] => [bar.node, bar]));
  const lines = lineRows(phrase).map(({ bars }) => ({ bars: bars.flatMap((node) => barOf.get(node) ?? []) }));
  const rows = phrase.item.rows.filter((row) => row.kind === 'degrees');
  return pairRows(lines, rows).flatMap(({ row, bars }) => {
    const under = barsUnder(row, bars);
    return row.bars.flatMap((node, i) => (under[i] === undefined ? [] : [{ node, bar: under[i] }]));
  });
}
