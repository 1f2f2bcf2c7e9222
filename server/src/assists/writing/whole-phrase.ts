/** Rewriting a whole phrase: the new text of its rows, laid out, its degrees row written anew, and what must be true of the result. */
import { lineStart, nextLine } from '../../../../grammar/lines';
import { applyEdits } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import type { LineRow, Range, Row, TextEdit } from '../../../../grammar/tree';
import { readPhrase } from '../../analysis/read';
import type { Reading } from '../../analysis/types';
import { buildPhrase } from '../../model/build';
import type { Phrase } from '../../model/types';
import { severeProblemsOf } from '../../rules/severe';
import type { AssistContext, Offer } from '../assist';
import { degreesEdits } from './degrees-row';
import { laidOutAs } from './phrase-title';

/** The phrase's text after the edits, laid out if it was before; its `degrees` rows follow the new notes. Null where it can no longer be read. */
export function rewritten(context: AssistContext, edits: readonly TextEdit[]): string | null {
  const { text, item } = context.placed.phrase;
  const numbered = item.rows.filter((row) => row.kind === 'degrees');
  const dropped = numbered.map(({ range }) => ({ range: wholeLine(text, range), text: '' }));
  const bare = applyEdits(text, sorted([...edits, ...dropped]));
  if (numbered.length === 0) return laidOutAs(text, bare);
  const reading = readText(context, bare);
  return reading === null ? null : laidOutAs(text, applyEdits(bare, sorted(degreesEdits(reading))));
}

export function sorted(edits: readonly TextEdit[]): TextEdit[] {
  return [...edits].sort((a, b) => a.range.start - b.range.start || a.range.end - b.range.end);
}

/** A row with its line break, so that nothing empty is left; a comment behind it keeps its line. */
export function wholeLine(text: string, { start, end }: Range): Range {
  const whole = { start: lineStart(text, start), end: nextLine(text, end) };
  const clean = text.slice(whole.start, start).trim() === '' && text.slice(end, whole.end).trim() === '';
  return clean ? whole : { start, end };
}

/** Reads a phrase's text with the file's definitions; null where it is no phrase, or a word of it cannot be read. */
export function readText({ snapshot, options }: Pick<AssistContext, 'snapshot' | 'options'>, text: string): Reading | null {
  const slice = parseSlice(text);
  const isBroken = slice.problems.some(({ severity }) => severity === 'error');
  return slice.item.kind === 'phrase' && !isBroken
    ? readPhrase(buildPhrase(slice, slice.item, snapshot.definitions).phrase, options)
    : null;
}

/** The offer that replaces the phrase by a text, if that is a sound phrase. */
export function replacing(
  context: AssistContext,
  text: string | null,
  title: string,
  isWanted: (after: Reading) => boolean = () => true,
): Offer[] {
  const { phrase } = context.placed;
  if (text === null) return [];
  const after = readText(context, text);
  if (after === null || !isNoWorse(context.reading, after) || !isWanted(after)) return [];
  // The phrase's slice may end in blank lines, which stay as they are.
  const range = { start: 0, end: phrase.text.trimEnd().length };
  const fresh = text.trimEnd();
  return fresh === phrase.text.trimEnd() ? [] : [{ title, edits: [{ range, text: fresh }], repairs: null, preferred: false }];
}

/** No new error, and no clash more than before. A claim that no longer holds is told as such, which is the claim's use. */
export function isNoWorse(before: Reading, after: Reading): boolean {
  const errors = (reading: Reading): number =>
    all(reading).filter(({ severity, rule }) => severity === 'error' && rule !== 'claim-impossible').length;
  const clashes = (reading: Reading): number =>
    all(reading).filter(({ rule }) => rule === 'clash' || rule === 'line-longer-than-chords').length;
  return errors(after) <= errors(before) && clashes(after) <= clashes(before);
}

function all(reading: Reading): readonly { readonly rule: string; readonly severity: string }[] {
  return [...severeProblemsOf(reading), ...reading.phrase.problems];
}

/** Whether the whole line can be written anew: every bar was read, and every bar has its right length. */
export function isWhole(phrase: Phrase): boolean {
  const rows = phrase.item.rows;
  const broken = phrase.problems.some(({ severity }) => severity === 'error') || rows.some((row) => row.kind === 'unknown');
  return !broken && phrase.notes.length > 0 && lineRows(phrase).every((row) => row.bars.every((bar) => !bar.broken));
}

export function lineRows(phrase: Phrase): LineRow[] {
  return phrase.item.rows.filter((row): row is LineRow => row.kind === 'line');
}

/** The edits that give every bar of the line a new text (`null`: it stays). Texts are in the order of `phrase.bars`. */
export function barEdits(phrase: Phrase, texts: readonly (string | null)[]): TextEdit[] {
  return phrase.bars.flatMap((bar, i) => {
    const text = texts[i];
    if (text == null || bar.node === null) return [];
    const { range } = bar.node;
    return [{ range, text: range.start === range.end ? ` ${text} ` : text }];
  });
}

/** A row's words after its keyword. */
export function rowWords(text: string, row: Row): string {
  return text.slice(row.keyword.range.end, row.range.end).trim();
}
