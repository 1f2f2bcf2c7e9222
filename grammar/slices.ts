/** Cuts a file into slices, one a top-level item: the unit that is parsed, and analysed, again after an edit. */
import { beginsText, openAfter, readsAsProse } from './open-text';
import { beginsItem, isPhraseMistyped, rowWord } from './rows';

export interface Slice {
  readonly start: number;
  readonly text: string;
}

/** Where a text differs from the one before it: offsets of the old text, `start` to `end`, and how long what stands there now is. All in UTF-16. */
export interface TextEdited {
  readonly start: number;
  readonly end: number;
  readonly length: number;
}

/** Which slices of the text before are replaced, first to one past the last, and by which; those after them only moved. */
export interface Recut {
  readonly from: number;
  readonly to: number;
  readonly fresh: readonly Slice[];
}

/** What is known of a slice of the text before: where it began, its text, and the keyword of its item (empty: none). */
export interface KnownSlice extends Slice {
  readonly keyword: string;
}

/** The first step beyond what an edit touched; the next ones are twice as long. */
const FIRST_STEP = 1;

/**
 * Cuts a file again where an edit may have moved a cut. `slices` are those of the text before, at least one. The answer is that of `sliceFile`, since what
 * begins a slice is told by its line and by the lines above it as far as the slice before goes, and a slice that comes out as it was leaves all after it as they were.
 */
export function resliceFile(text: string, count: number, slices: (index: number) => KnownSlice, edited: TextEdited): Recut {
  const at = (offset: number): number => lastStart(count, (index) => slices(index).start, offset);
  const by = edited.length - (edited.end - edited.start);
  let from = Math.max(0, at(edited.start) - 1);
  while (from > 0 && slices(from).keyword !== 'phrase' && slices(from).keyword !== 'lesson') from -= 1;
  const { start } = slices(from);
  for (let last = at(edited.end) + 1, step = FIRST_STEP; ; last += step, step *= 2) {
    const end = last + 1 < count ? slices(last + 1).start + by : text.length;
    const fresh = sliceFile(text.slice(start, end)).map((slice): Slice => ({ start: slice.start + start, text: slice.text }));
    const isEnd = last + 1 >= count;
    if (isEnd || fresh[fresh.length - 1]!.text === slices(last).text) return { from, to: isEnd ? count : last + 1, fresh };
  }
}

/** The index of the last start that is not after an offset; 0 where all are. */
export function lastStart(count: number, startOf: (index: number) => number, offset: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (startOf(middle) <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

interface Line {
  readonly start: number;
  /** The first word; empty for blank lines and for prose in a text that was left open, `//` for comments, `|` for continued rows. `phrase` mistyped before a name is `phrase`. */
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
  const lineEnd = /\r\n|\r|\n|$/g;
  let open = 0;
  for (let start = 0; start < text.length; ) {
    lineEnd.lastIndex = start;
    const end = lineEnd.exec(text)!;
    const word = firstWord(text, start);
    const isProse = open > 0 && beginsItem(word) && readsAsProse(text.slice(start, end.index).trim());
    lines.push({ start, word: isProse ? '' : word });
    // Another row ends a text that was left open.
    if (!isProse && rowWord(word) !== undefined) open = 0;
    if (open > 0 || beginsText(word)) open = openAfter(text.slice(start, end.index).trim(), open);
    start = end.index + end[0].length;
  }
  return lines;
}

/** A byte order mark may stand before it: that counts as white space. */
const FIRST_WORD = /[^\S\r\n]*(?:(\/\/|\|)|([^\s"“”|]*)([^\S\r\n]*["“”])?)/y;

function firstWord(text: string, start: number): string {
  FIRST_WORD.lastIndex = start;
  const [, sign, word, quote] = FIRST_WORD.exec(text)!;
  return sign ?? (quote !== undefined && isPhraseMistyped(word!) ? 'phrase' : word!);
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
