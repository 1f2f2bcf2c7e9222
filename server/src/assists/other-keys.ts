/** A phrase in another key, in the octave that suits its part. */
import { applyEdits, formatText } from '../../../grammar/printer';
import { parseSlice } from '../../../grammar/parser';
import type { Phrase } from '../model/types';
import type { Snapshot } from '../model/snapshot';
import { soundingRange } from '../theory/part';
import { shiftBetween, type Shift } from '../theory/interval';
import { formatNoteName, midi, parseNoteName } from '../theory/pitch';
import type { Key } from '../theory/types';
import { hasAbsoluteChord, transposedText } from './transposing';

export function keyWords(tonic: string, { mode }: Key): string {
  return `${tonic} ${mode}`;
}

/** The phrase's text from its keyword on, in the key of another tonic; null where something in it cannot be moved. */
export function inKeyOf(snapshot: Snapshot, phrase: Phrase, key: Key, tonic: string): string | null {
  const up = shiftBetween(key.tonic, parseNoteName(tonic)!);
  const down: Shift = { diatonic: up.diatonic - 7, chromatic: up.chromatic - 12 };
  const shift = [up, down].sort((a, b) => strain(phrase, a) - strain(phrase, b))[0]!;
  const text = transposedText(snapshot, phrase, shift, hasAbsoluteChord(phrase));
  // Names of other lengths move the columns.
  return text === null ? null : formatText(text);
}

/** How far a shift takes the phrase out of its part's range, then how far it moves it at all (half steps). */
function strain(phrase: Phrase, { chromatic }: Shift): number {
  const { low, high } = soundingRange(phrase.part);
  const outside = phrase.notes.filter((note) => note.midi + chromatic < midi(low) || note.midi + chromatic > midi(high)).length;
  return outside * 1000 + Math.abs(chromatic);
}

/** A phrase's text with an addition to its name, from its keyword on. */
export function titled(text: string, addition: string): string {
  const { item } = parseSlice(text);
  if (item.kind !== 'phrase') return text;
  const { title, keyword } = item;
  const name = title === null ? '' : text.slice(title.range.start + 1, title.range.end - (title.closed ? 1 : 0));
  const said = `"${`${name} (${addition})`.trim()}"`;
  const edit = title === null ? { range: { start: keyword.range.end, end: keyword.range.end }, text: ` ${said}` } : { range: title.range, text: said };
  return applyEdits(text, [edit]).slice(keyword.range.start).trimEnd();
}

/** `Bb`, `G minor`: a key as an addition to a name. */
export function shortKey(tonic: string, { mode }: Key): string {
  return `${formatNoteName(parseNoteName(tonic)!)}${mode === 'minor' ? ' minor' : ''}`;
}
