/** Reads the row around a cursor from the text alone, for a row being typed has no reliable tree yet. */
import { lineEnd, lineStart } from '../../../../grammar/lines';
import type { RowBefore } from './completion';

/** Rows are short; what stands further above belongs to another one. */
const MOST_LINES_ABOVE = 40;

/** The row up to the cursor; null in a comment or a string, where words are the writer's own. */
export function rowBefore(text: string, offset: number): RowBefore | null {
  const lines = linesUpTo(text, offset);
  const row = lines.join(' ');
  if (hidden(row)) return null;
  const word = /[^\s|]*$/.exec(row)![0];
  const rest = row.slice(0, row.length - word.length).trimStart();
  const keyword = /^[^\s|]*/.exec(rest)![0];
  return { keyword, before: rest.slice(keyword.length), word, after: text.slice(offset, lineEnd(text, offset)) };
}

/** The line of the cursor, and those above it that it goes on from (it starts with a bar line). Comments are left out. */
function linesUpTo(text: string, offset: number): string[] {
  let start = lineStart(text, offset);
  const lines = [text.slice(start, offset)];
  for (let count = 0; count < MOST_LINES_ABOVE && start > 0 && lines[0]!.trimStart().startsWith('|'); count += 1) {
    const end = start;
    start = lineStart(text, end - 1);
    const line = text.slice(start, end).trim();
    if (line !== '' && !line.startsWith('//')) lines.unshift(line);
  }
  return lines;
}

function hidden(row: string): boolean {
  const open = /["“”]/.test(row.replace(/\\./g, '').replace(/["“”][^"“”]*["“”]/g, ''));
  return open || /(?:^|\s)\/\//.test(row.replace(/["“”][^"“”]*["“”]/g, ''));
}
