/** What a writer has begun: the word right before a cursor, and the last bar of a row. Offsets are UTF-16 from the start of the document. */
import { lineEnd, lineStart } from '../../../grammar/lines';
import type { Found, Stretch } from './moving';

/** Of what was written, that in a place that may not be whole: the last bar of a row with a cursor in it, or the word that a cursor stands behind. */
export function begunAt(text: string, written: readonly Stretch[], cursors: readonly number[]): Stretch[] {
  const places = cursors.map((cursor) => lastBarAt(text, cursor) ?? wordBefore(text, cursor));
  return written.flatMap(({ start, end }) =>
    places
      .filter((place) => start <= place.end && place.start <= end)
      .map((place) => ({ start: Math.max(start, place.start), end: Math.min(end, place.end) })),
  );
}

/** The cursors that write in the last bar of a row. */
export function pensAt(text: string, begun: readonly Stretch[], cursors: readonly number[]): readonly number[] {
  return cursors.filter((cursor) => {
    const bar = lastBarAt(text, cursor);
    return bar !== null && begun.some(({ start, end }) => start <= bar.end && bar.start <= end);
  });
}

/** A row with music in it: its words end with blanks, and a word is whole or not by itself. Other rows are whole when their line is. */
const MUSIC = /^[^\S\r\n]*(?:\||(?:line|over|degrees)\s|(?:cell|changes)\s[^=]*=[\s|]*[^\s|])/;

/**
 * Whether a finding is of what a cursor stands right behind, so that it may not be whole. At the end of a line: of its row, in a row of music of its
 * last word that no blank has ended, or of several words up to there. Within a line: of what cannot be read there.
 */
export function isRightBefore(text: string, { start, end, isError }: Found, cursor: number): boolean {
  const begin = lineStart(text, cursor);
  const before = text.slice(begin, cursor);
  if (start > cursor || start < begin || isComment(before)) return false;
  const isWord = !/\s/.test(text.slice(start, end));
  if (textAfter(text, cursor).trim() !== '') return isWord && isError === true && end >= cursor;
  if (!MUSIC.test(before) || text.slice(begin, start).trim() === '') return true;
  return end >= cursor || (!isWord && text.slice(end, cursor).trim() === '');
}

/** What stands between the last bar line of a row of music, before a cursor, and the end of its line; null where a bar line follows the cursor, and elsewhere. */
function lastBarAt(text: string, cursor: number): Stretch | null {
  const begin = lineStart(text, cursor);
  const before = text.slice(begin, cursor);
  if (
    !/^[^\S\r\n]*(?:line\s|\|)/.test(before) ||
    isComment(before) ||
    textAfter(text, cursor)
      .replace(/(?:^|\s)\/\/.*$/, '')
      .includes('|')
  )
    return null;
  return {
    start: Math.max(begin + /^\s*(?:line)?/.exec(before)![0].length, text.lastIndexOf('|', cursor - 1) + 1),
    end: cursor + textAfter(text, cursor).length,
  };
}

function wordBefore(text: string, cursor: number): Stretch {
  return { start: cursor - /\S*\s*$/.exec(text.slice(lineStart(text, cursor), cursor))![0].length, end: cursor };
}

function isComment(before: string): boolean {
  return /(?:^|\s)\/\//.test(before);
}

function textAfter(text: string, offset: number): string {
  return text.slice(offset, lineEnd(text, offset));
}
