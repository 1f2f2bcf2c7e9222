/** What of a score stands at an offset of its text. */
import type { ScoreNote, ScorePhrase, Stretch } from './messages';

/** Offsets are UTF-16 from the start of the text; the end is exclusive. */
export interface OffsetRange {
  readonly start: number;
  readonly end: number;
}

/** The index of the phrase that an offset is in, in a text so long; null between phrases. */
export function phraseAt(phrases: readonly OffsetRange[], offset: number, length: number): number | null {
  // Where one phrase ends something else starts, but at the end of the text.
  const index = phrases.findLastIndex(({ start, end }) => offset >= start && (offset < end || offset === length));
  return index < 0 ? null : index;
}

/** The note written at an offset, or held there. A place between two notes belongs to the one that starts there. */
export function noteAt(
  { notes }: { readonly notes: readonly Pick<ScoreNote, 'start' | 'end' | 'holds'>[] },
  offset: number,
): number | null {
  const isIn = ({ start, end }: OffsetRange): boolean => offset >= start && offset <= end;
  const here = notes.flatMap((note, index) => (isIn(note) || note.holds.some(isIn) ? [{ note, index }] : []));
  return (here.find(({ note }) => note.start <= offset && offset < note.end) ?? here[0])?.index ?? null;
}

/** The time that the notes in some ranges of the text take, from the first to the last; null for fewer than two. */
export function stretchIn({ notes }: Pick<ScorePhrase, 'notes'>, ranges: readonly OffsetRange[]): Stretch | null {
  const chosen = notes.filter((note) => ranges.some(({ start, end }) => note.start < end && note.end > start));
  if (chosen.length < 2) return null;
  return { from: Math.min(...chosen.map(({ onset }) => onset)), to: Math.max(...chosen.map(({ onset, duration }) => onset + duration)) };
}
