/** Texts in quotes, and those that go on in the lines below their own. */
import { hasMusic, MOST_LINES, quotesIn, readsAsProse } from './open-text';
import { rangeOf } from './problems';
import type { RawRow } from './raw-row';
import { beginsItem, rowWord } from './rows';
import { Quoted } from './tokens';
import type { Range } from './tree';

/** What a text has in the lines below its own; `closed`: the last of them ends with its quote. */
export interface GoesOn {
  readonly lines: readonly Range[];
  readonly closed: boolean;
}

/** Whether the last character of a text's token is its closing quote. */
export function isClosed(image: string): boolean {
  return image.length > 1 && /["“”]$/.test(image) && !/(?:^|[^\\])(?:\\\\)*\\["“”]$/.test(image);
}

/** Rows in which the lines that a text goes on in are marked as its own. `isRow`: whether a row of words reads as one, or may be meant for one. */
export function joinTexts(text: string, raws: readonly RawRow[], isRow: (raw: RawRow) => boolean): readonly RawRow[] {
  const joined: RawRow[] = [];
  let end = -1;
  raws.forEach((raw, i) => {
    if (raw.keyword.startOffset < end) {
      joined.push({ ...raw, ofText: true });
      return;
    }
    const token = raw.segments.at(-1)?.words.at(-1)?.at(-1);
    const goesOn =
      token?.tokenType !== Quoted || isClosed(token.image)
        ? null
        : goesOnAfter(text, rangeOf(token).end, raws.slice(i + 1, i + 1 + MOST_LINES), isRow);
    joined.push(goesOn === null ? raw : { ...raw, goesOn, text });
    if (goesOn !== null) end = goesOn.lines.at(-1)!.end;
  });
  return joined;
}

function goesOnAfter(text: string, start: number, raws: readonly RawRow[], isRow: (raw: RawRow) => boolean): GoesOn | null {
  const lines: Range[] = [];
  /** How many of the lines at the front are surely prose. */
  let plain = 0;
  for (const line of linesAfter(text, start)) {
    const content = text.slice(line.start, line.end);
    const raw = raws.find(({ keyword }) => keyword.startOffset === line.start);
    const quotes = quotesIn(content);
    if (content === '' || content.startsWith('//') || content.includes('|') || quotes > 1) break;
    if (quotes === 1)
      return /["“”]$/.test(content.replaceAll(/\\./g, '')) ? { lines: [...lines, line], closed: true } : opened(lines, plain);
    const isProse = raw !== undefined && beginsItem(raw.keyword.image) && readsAsProse(content);
    const row = raw === undefined || isProse ? undefined : rowWord(raw.keyword.image);
    if (row !== undefined && (row.mode === 'words' ? isRow(raw!) : hasMusic(content))) break;
    lines.push(line);
    if (plain === lines.length - 1 && raw !== undefined && row === undefined && !isRow(raw)) plain += 1;
    // What stands above a line of prose is none either.
    if (isProse) plain = lines.length;
  }
  return opened(lines, plain);
}

function opened(lines: readonly Range[], plain: number): GoesOn | null {
  return plain === 0 ? null : { lines: lines.slice(0, plain), closed: false };
}

/** The lines below an offset without the white space round them. */
function* linesAfter(text: string, start: number): Generator<Range> {
  const line = /(?:\r\n|\r|\n)[^\S\r\n]*([^\r\n]*)/y;
  line.lastIndex = start;
  for (let i = 0, match = line.exec(text); match !== null && i < MOST_LINES; i += 1, match = line.exec(text)) {
    const end = line.lastIndex;
    yield { start: end - match[1]!.length, end: end - match[1]!.length + match[1]!.trimEnd().length };
  }
}
