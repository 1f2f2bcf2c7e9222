/** What stands at an offset of a document: the phrase, and in it the note, the chord, the keyword. */
import type { Range, Row } from '../../../grammar/tree';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import type { ChordSpan, Note, Phrase } from '../model/types';

export { phraseAt, phraseNear } from '../model/snapshot';

/** The phrase of a name, the one nearest to an offset where several have it; null where none has. */
export function phraseNamed({ phrases }: Snapshot, name: string, offset: number): PlacedPhrase | null {
  const named = phrases.filter(({ phrase }) => phrase.name === name);
  return named.length === 0
    ? null
    : named.reduce((best, one) => (Math.abs(one.start - offset) < Math.abs(best.start - offset) ? one : best));
}

export function contains({ start, end }: Range, at: number): boolean {
  return at >= start && at <= end;
}

/** The note written at a place of the slice (or held there). Touching its end counts, unless another note starts there. */
export function noteAt(phrase: Phrase, at: number): Note | null {
  const here = phrase.notes.filter((note) => contains(note.range, at) || note.holds.some((hold) => contains(hold.range, at)));
  return here.find((note) => note.range.start <= at && at < note.range.end) ?? here[0] ?? null;
}

export function spanAt(phrase: Phrase, at: number): ChordSpan | null {
  return phrase.spans.find((span) => contains(span.range, at)) ?? null;
}

export function rowAt(phrase: Phrase, at: number): Row | null {
  return phrase.item.rows.find((row) => contains(row.range, at)) ?? null;
}
