/** Cuts a file into slices, one a top-level item: the unit that is parsed, and analysed, again after an edit. */
import { beginsItem, rowWord } from './rows';

export interface Slice {
  readonly start: number;
  readonly text: string;
}

interface Line {
  readonly start: number;
  /** The first word; empty for blank lines, `//` for comments, `|` for continued rows. */
  readonly word: string;
}

/**
 * The slices of a file, in order; joined, they are the file. A `changes` or `cell` that is followed by rows of the phrase above
 * it stays in that phrase's slice. Comment lines directly above an item go with it.
 */
export function sliceFile(text: string): Slice[] {
  const lines = readLines(text);
  const starts: number[] = [0];
  let inside = '';
  lines.forEach((line, i) => {
    if (!beginsItem(line.word)) return;
    const nested = (line.word === 'changes' || line.word === 'cell') && inside === 'phrase' && rowsFollow(lines, i);
    if (nested) return;
    inside = line.word;
    const start = lines[leadIn(lines, i)]!.start;
    if (start > starts[starts.length - 1]!) starts.push(start);
  });
  return starts.map((start, i) => ({ start, text: text.slice(start, starts[i + 1] ?? text.length) }));
}

function readLines(text: string): Line[] {
  const lines: Line[] = [];
  const pattern = /[^\r\n]*(?:\r\n|\r|\n|$)/y;
  for (let start = 0; start < text.length; ) {
    pattern.lastIndex = start;
    const line = pattern.exec(text)![0];
    lines.push({ start, word: firstWord(line) });
    start += line.length;
  }
  return lines;
}

function firstWord(line: string): string {
  const content = line.replace(/^\uFEFF/, '').trimStart();
  if (content.startsWith('//')) return '//';
  if (content.startsWith('|')) return '|';
  return /^[^\s"“”|]*/.exec(content)![0];
}

/** Whether rows of a phrase follow a definition before the next top-level keyword. */
function rowsFollow(lines: readonly Line[], from: number): boolean {
  for (let i = from + 1; i < lines.length && !beginsItem(lines[i]!.word); i += 1) {
    if (rowWord(lines[i]!.word) !== undefined) return true;
  }
  return false;
}

/** The first of the comment lines that stand directly above a line; a blank line between belongs to what is above. */
function leadIn(lines: readonly Line[], at: number): number {
  let first = at;
  while (first > 0 && lines[first - 1]!.word === '//') first -= 1;
  return first;
}
