/** Lines of a text, whichever line breaks part them. Offsets are UTF-16. */
import type { Range, TextEdit } from './tree';

const isBreak = (sign: string | undefined): boolean => sign === '\n' || sign === '\r';

/** Where the line of an offset begins. */
export function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && !isBreak(text[at - 1])) at -= 1;
  return at;
}

/** Where it ends, before its line break. */
export function lineEnd(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && !isBreak(text[at])) at += 1;
  return at;
}

/** Where the next line begins, behind the line break; the end of the text where there is none. */
export function nextLine(text: string, offset: number): number {
  const end = lineEnd(text, offset);
  return Math.min(text.length, end + (text.startsWith('\r\n', end) ? 2 : 1));
}

/** Where the line above one that begins at `start` begins; `start` must not be 0. */
export function lineAbove(text: string, start: number): number {
  return lineStart(text, start - (text.endsWith('\r\n', start) ? 2 : 1));
}

/** Writes a row above the line of an offset, as far in as what stands there. */
export function writingAbove(text: string, offset: number, row: string): TextEdit {
  const start = lineStart(text, offset);
  const indent = /^[^\S\r\n]*/.exec(text.slice(start, offset))![0];
  return { range: { start, end: start }, text: `${indent}${row}${lineBreakOf(text)}` };
}

/** Moves the lines of a range above the line of an offset; the line break before them goes with them. */
export function movingLines(text: string, { start, end }: Range, above: number): TextEdit[] {
  const from = lineStart(text, start);
  const to = lineEnd(text, end);
  const before = from - /(?:\r\n|\r|\n)?$/.exec(text.slice(0, from))![0].length;
  const top = lineStart(text, above);
  return [
    { range: { start: top, end: top }, text: text.slice(from, to) + lineBreakOf(text) },
    { range: { start: before, end: to }, text: '' },
  ];
}

/** The first line break of a text, for what is written into it; `\n` where it has none. */
export function lineBreakOf(text: string): string {
  return /\r\n|\r|\n/.exec(text)?.[0] ?? '\n';
}
