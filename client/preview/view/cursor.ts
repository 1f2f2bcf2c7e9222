/** The cursor in the score: the phrase and the note that the reader is at, and what is selected in the text. */
import type { ScoreNote, Stretch } from '../../src/score/messages';

export interface Cursor {
  readonly phrase: number;
  readonly note: number | null;
  /** The stretch of the phrase that is selected in the text; null: nothing is. */
  readonly selection: Stretch | null;
}

/** Where the reader begins. */
export const START: Cursor = { phrase: 0, note: null, selection: null };

type Placed = Pick<ScoreNote, 'start' | 'end'>;

/** The note to be marked where the text tells of one: the notes of a cell share one place in it, and the one that was chosen here stays the one. */
export function keptNote(
  cursor: Cursor,
  { phrase, note }: Pick<Cursor, 'phrase' | 'note'>,
  notes: readonly Placed[] | undefined,
): number | null {
  const [chosen, told] = [cursor.note, note].map((one) => (one === null ? undefined : notes?.[one]));
  const isSame =
    cursor.phrase === phrase && chosen !== undefined && told !== undefined && chosen.start === told.start && chosen.end === told.end;
  return isSame ? cursor.note : note;
}

/** The cursor in a score that comes, of which the text is at phrase `here`: the note of another phrase is none of this one. */
export function movedCursor(cursor: Cursor, here: number | null): Cursor {
  return here === cursor.phrase ? cursor : { ...START, phrase: here ?? 0 };
}
