/** What a hover says at an offset: the first part that has something to say. */
import type { Range } from '../../../../grammar/tree';
import { readPhrase } from '../../analysis/read';
import type { TheoryOptions } from '../../analysis/types';
import type { PlacedPhrase, Snapshot } from '../../model/snapshot';
import { contains, noteAt, phraseAt, spanAt } from '../place';
import { chordHover } from './chord';
import { keywordHover } from './keyword';
import { noteHover } from './note';
import { phraseHover } from './phrase';

export interface Hover {
  readonly markdown: string;
  /** Offsets in the file. */
  readonly start: number;
  readonly end: number;
}

export function hoverAt(snapshot: Snapshot, offset: number, options: TheoryOptions): Hover | null {
  const placed = phraseAt(snapshot, offset);
  return (placed === null ? null : inPhrase(placed, offset, options)) ?? keywordAt(snapshot, offset);
}

function inPhrase({ start, phrase }: PlacedPhrase, offset: number, options: TheoryOptions): Hover | null {
  const at = offset - start;
  const placed = (range: Range, markdown: string): Hover => ({ markdown, start: start + range.start, end: start + range.end });
  const reading = readPhrase(phrase, options);
  const note = noteAt(phrase, at);
  if (note !== null) return placed(note.range, noteHover(reading, note.index));
  const figure = phrase.figures.find((one) => contains(one.range, at));
  if (figure?.note != null) return placed(figure.range, noteHover(reading, figure.note));
  const span = spanAt(phrase, at);
  if (span !== null) return placed(span.range, chordHover(reading, span.index, options));
  const { title } = phrase.item;
  return title !== null && contains(title.range, at) ? placed(title.range, phraseHover(reading)) : null;
}

function keywordAt(snapshot: Snapshot, offset: number): Hover | null {
  for (const { start, parsed } of snapshot.slices) {
    const { item } = parsed;
    const keywords = [item.keyword, ...(item.kind === 'phrase' || item.kind === 'lesson' ? item.rows.map((row) => row.keyword) : [])];
    for (const { text, range } of keywords) {
      const markdown = contains(range, offset - start) ? keywordHover(text) : null;
      if (markdown !== null) return { markdown, start: start + range.start, end: start + range.end };
    }
  }
  return null;
}
