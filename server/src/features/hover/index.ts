/** What a hover says at an offset: the first part that has something to say. One that breaks off says nothing, and leaves it to the next. */
import type { Range } from '../../../../grammar/tree';
import { readPhrase } from '../../analysis/read';
import type { Claim } from '../../analysis/claims/claim';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { PlacedPhrase, Snapshot } from '../../model/snapshot';
import type { Note } from '../../model/types';
import { nameAt } from '../names';
import { contains, noteAt, phraseAt, rowAt, spanAt } from '../place';
import { chordHover } from './chord';
import { claimHover } from './claim';
import { definedChordAt, definedChordHover } from './defined-chord';
import { figureHover } from './figure';
import { keywordHover } from './keyword';
import { nameHover } from './name';
import { noteHover } from './note';
import { phraseHover } from './phrase';
import { propertyHover } from './row';

export interface Hover {
  readonly markdown: string;
  /** Offsets in the file. */
  readonly start: number;
  readonly end: number;
}

export function hoverAt(snapshot: Snapshot, offset: number, options: TheoryOptions): Hover | null {
  const placed = phraseAt(snapshot, offset);
  const part = (of: string, work: () => Hover | null): Hover | null => guarded(`the hover of ${of}`, null, work);
  return (
    part('a name', () => named(snapshot, offset, placed, options)) ??
    (placed === null ? null : part('a phrase', () => inPhrase(placed, offset, options))) ??
    part('a definition', () => inDefinition(snapshot, offset)) ??
    part('a keyword', () => keywordAt(snapshot, offset))
  );
}

function named(snapshot: Snapshot, offset: number, placed: PlacedPhrase | null, options: TheoryOptions): Hover | null {
  const name = nameAt(snapshot, offset);
  if (name === null) return null;
  const use =
    name.kind === 'cell'
      ? placed?.phrase.groups.find(({ cell, range }) => cell === name.name && contains(range, offset - placed.start))
      : placed?.phrase.spans.find(({ definition, range }) => definition?.name === name.name && contains(range, offset - placed.start));
  const here = placed === null || use === undefined ? null : { reading: readPhrase(placed.phrase, options), at: use.range.start };
  return { markdown: nameHover(snapshot, name, here), start: name.start, end: name.end };
}

function inPhrase({ start, phrase }: PlacedPhrase, offset: number, options: TheoryOptions): Hover | null {
  const at = offset - start;
  const placed = (range: Range, markdown: string): Hover => ({ markdown, start: start + range.start, end: start + range.end });
  const reading = readPhrase(phrase, options);
  const note = noteAt(phrase, at);
  if (note !== null) return placed(heldAt(note, at) ?? note.range, noteHover(reading, note.index));
  const figure = phrase.figures.find((one) => contains(one.range, at));
  if (figure !== undefined) return placed(figure.range, figureHover(reading, figure));
  const span = spanAt(phrase, at);
  if (span !== null) return placed(span.range, chordHover(reading, span.index, options));
  const claim = phrase.claims.find((one) => contains(one.range, at));
  if (claim !== undefined) return claimAt(reading, claim, at, placed);
  const row = rowAt(phrase, at);
  const property = row === null ? null : propertyHover(row);
  if (property !== null) return placed(row!.range, property);
  const { title } = phrase.item;
  return title !== null && contains(title.range, at) ? placed(title.range, phraseHover(reading)) : null;
}

/** On its first word the row is explained, too. */
function claimAt(reading: Reading, claim: Claim, at: number, placed: (range: Range, markdown: string) => Hover): Hover | null {
  const said = [
    claimHover(reading, claim),
    contains({ start: claim.range.start, end: claim.range.start + 'claim'.length }, at) ? keywordHover('claim') : null,
  ];
  const lines = said.filter((line) => line !== null && line !== '');
  return lines.length === 0 ? null : placed(claim.range, lines.join('\n\n'));
}

/** The `~` under the cursor, where the note is only held there. */
function heldAt(note: Note, at: number): Range | null {
  return contains(note.range, at) ? null : (note.holds.find((hold) => contains(hold.range, at))?.range ?? null);
}

function inDefinition({ slices }: Snapshot, offset: number): Hover | null {
  for (const { start, parsed } of slices) {
    const chord = start <= offset && offset <= start + parsed.text.length ? definedChordAt(parsed.item, offset - start) : null;
    if (chord !== null) return { markdown: definedChordHover(chord), start: start + chord.range.start, end: start + chord.range.end };
  }
  return null;
}

function keywordAt(snapshot: Snapshot, offset: number): Hover | null {
  for (const { start, parsed } of snapshot.slices) {
    const { item } = parsed;
    const nested = item.kind === 'phrase' ? item.nested.map((one) => one.keyword) : [];
    const rows = item.kind === 'phrase' || item.kind === 'lesson' ? item.rows.map((row) => row.keyword) : [];
    for (const { text, range } of [item.keyword, ...rows, ...nested]) {
      const markdown = contains(range, offset - start) ? keywordHover(text) : null;
      if (markdown !== null) return { markdown, start: start + range.start, end: start + range.end };
    }
  }
  return null;
}
