/** From rows of tokens to the tree of a slice: which item it is, and what each row says. */
import { flatMap } from './flat-map';
import type { IToken } from 'chevrotain';
import { readShare, reportHiddenChords, reportLonelyPercent } from './chords';
import { lineStart } from './lines';
import { gatherLowerCase } from './lower-case';
import { readFigure, readGroup } from './notes';
import { isName } from './names';
import { Problems, rangeOf, wordOf, writing } from './problems';
import type { RawRow, RawSegment } from './raw-row';
import { isOrMayBeRow, readProperty, readTitle, reportMistyped } from './properties';
import { beginsItem, isPhraseMistyped, rowWord } from './rows';
import { joinTexts } from './texts';
import { Equals, EqualsWord, Figure, Hold, Hyphen, Quoted, RepeatSign, Rest, Star } from './tokens';
import type {
  CellItem,
  ChangesItem,
  ChordBar,
  Comment,
  DegreesRow,
  FigureBar,
  FigureGroup,
  FigureSlot,
  Group,
  Item,
  LineBar,
  LineRow,
  OverRow,
  ParsedSlice,
  Range,
  Row,
  Share,
  Word,
} from './tree';

/** The tree of a slice. Comments are kept; one hides nothing but what it holds. */
export function buildSlice(text: string, read: readonly RawRow[], comments: readonly IToken[], glued: readonly IToken[]): ParsedSlice {
  const problems = new Problems();
  const raws = joinTexts(text, read, isOrMayBeRow);
  reportComments(text, raws, comments, glued, problems);
  const kept = comments.map((token): Comment => ({ text: token.image, range: rangeOf(token) }));
  const item = buildItem(text, raws, kept, problems);
  return { text, item, problems: problems.found };
}

function reportComments(
  text: string,
  raws: readonly RawRow[],
  comments: readonly IToken[],
  glued: readonly IToken[],
  problems: Problems,
): void {
  for (const token of glued) {
    const at = { start: token.startOffset, end: token.startOffset };
    problems.report('glued-comment', rangeOf(token), { fixes: [writing(at, ' ', true, 'Put a space before the comment')] });
  }
  const harmony = raws.filter(({ keyword, ofText }) => ofText !== true && (keyword.image === 'over' || keyword.image === 'changes'));
  for (const comment of comments) {
    const alone = text.slice(lineStart(text, comment.startOffset), comment.startOffset).trim() === '';
    const within = harmony.some((row) => row.keyword.startOffset < comment.startOffset && comment.startOffset < rowEnd(row) + 400);
    if (!alone && within && harmony.some((row) => lineHas(text, row, comment))) reportHiddenChords(comment, problems);
  }
}

/** Whether a comment stands on the last line of a row's music. */
function lineHas(text: string, row: RawRow, comment: IToken): boolean {
  return row.keyword.startOffset < comment.startOffset && !/[\r\n]/.test(text.slice(rowEnd(row), comment.startOffset));
}

function rowEnd(row: RawRow): number {
  let end = rangeOf(row.keyword).end;
  const lastLine = row.barLines[row.barLines.length - 1];
  if (lastLine !== undefined) end = rangeOf(lastLine).end;
  for (let i = row.segments.length - 1; i >= 0; i -= 1) {
    const words = row.segments[i]!.words;
    const last = words[words.length - 1];
    if (last !== undefined) return Math.max(end, rangeOf(last[last.length - 1]!).end);
  }
  return end;
}

// ── Items ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function buildItem(text: string, raws: readonly RawRow[], comments: readonly Comment[], problems: Problems): Item {
  const [first, ...rest] = raws;
  const range = { start: 0, end: text.trimEnd().length };
  if (first === undefined) return { kind: 'stray', range, keyword: { text: '', range: { start: 0, end: 0 } }, comments };
  const keyword = { text: withoutMark(first.keyword.image), range: rangeOf(first.keyword) };
  const base = { range, keyword, comments };
  const isMistyped = isPhraseMistyped(keyword.text) && first.segments[0]!.words[0]?.[0]?.tokenType === Quoted;
  if (isMistyped) reportMistyped(keyword, problems);
  switch (isMistyped ? 'phrase' : keyword.text) {
    case 'phrase': {
      const title = readTitle(first, problems);
      const nested: (ChangesItem | CellItem)[] = [];
      const rows = flatMap(rest, (raw): Row[] => {
        if (raw.ofText === true || (raw.keyword.image !== 'changes' && raw.keyword.image !== 'cell'))
          return [buildRow(raw, 'phrase', problems)];
        problems.report('nested-definition', rangeOf(raw.keyword), { facts: { kind: raw.keyword.image } });
        nested.push(raw.keyword.image === 'changes' ? changesItem(raw, [], problems) : cellItem(raw, [], problems));
        return [];
      });
      reportRepeats(rows, problems);
      return { kind: 'phrase', range, keyword, comments, title, rows, nested };
    }
    case 'lesson': {
      const title = readTitle(first, problems);
      const rows = rest.map((raw) => buildRow(raw, 'lesson', problems));
      reportRepeats(rows, problems);
      return { kind: 'lesson', ...base, title, rows };
    }
    case 'changes':
    case 'cell': {
      for (const raw of rest) misplaced(raw, problems);
      return keyword.text === 'changes' ? changesItem(first, comments, problems) : cellItem(first, comments, problems);
    }
    default:
      for (const raw of raws) misplaced(raw, problems);
      return { kind: 'stray', ...base };
  }
}

/** A byte order mark may stand before the first word. */
function withoutMark(text: string): string {
  return text.replace(/^\uFEFF/, '');
}

function misplaced(raw: RawRow, problems: Problems): void {
  if (raw.ofText === true) return;
  const word = withoutMark(raw.keyword.image);
  if (isRowOfItem(word)) problems.report('misplaced-row', rangeOf(raw.keyword), { facts: { word } });
  else readProperty(raw, problems);
}

function reportRepeats(rows: readonly Row[], problems: Problems): void {
  const seen = new Set<string>();
  for (const row of [...rows].reverse()) {
    if (rowWord(row.kind)?.once !== true) continue;
    if (seen.has(row.kind)) problems.report('repeated-property', row.range, { severity: 'warning', facts: { word: row.kind } });
    seen.add(row.kind);
  }
}

function isRowOfItem(word: string): boolean {
  return rowWord(word) !== undefined && !beginsItem(word);
}

function buildRow(raw: RawRow, item: 'lesson' | 'phrase', problems: Problems): Row {
  const word = raw.keyword.image;
  const unknown = (): Row => ({
    kind: 'unknown',
    keyword: wordOf([raw.keyword]),
    range: { start: raw.keyword.startOffset, end: rowEnd(raw) },
  });
  if (raw.ofText === true) return unknown();
  if (isRowOfItem(word) && !rowWord(word)!.within.includes(item)) {
    problems.report('misplaced-row', rangeOf(raw.keyword), { facts: { word } });
    return unknown();
  }
  switch (word) {
    case 'over':
      return overRow(raw, problems);
    case 'line':
      return lineRow(raw, problems);
    case 'degrees':
      return degreesRow(raw, problems);
    default:
      return readProperty(raw, problems);
  }
}

// ── Definitions ────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Takes `NAME =` off the front of a definition's first segment. */
function readName(raw: RawRow, problems: Problems): { name: Word | null; body: RawSegment } {
  const kind = raw.keyword.image;
  const tokens = raw.segments[0]!.words;
  const flat = tokens.flat();
  const equals = flat.findIndex((token) => token.tokenType === Equals || token.tokenType === EqualsWord);
  const broken = raw.segments[0]!.broken;
  const quoted = quotedName(equals < 0 ? tokens[0] : flat.slice(0, equals));
  if (quoted !== null) {
    problems.report('bad-name', quoted.range, {
      facts: { kind, name: quoted.text, quoted: 'yes' },
      fixes: [writing(quoted.range, equals < 0 ? `${quoted.text} =` : quoted.text)],
    });
    return { name: quoted, body: { words: equals < 0 ? tokens.slice(1) : regroup(flat.slice(equals + 1)), broken } };
  }
  if (equals < 0) {
    const first = tokens[0]?.[0];
    const named = first !== undefined && isName(first.image) ? wordOf([first]) : null;
    const place = named?.range ?? rangeOf(raw.keyword);
    if (named === null) problems.report('missing-name', place, { facts: { kind } });
    else
      problems.report('missing-equals', place, {
        facts: { kind, name: named.text },
        fixes: [writing({ start: place.end, end: place.end }, ' =')],
      });
    return { name: named, body: { words: named === null ? tokens : tokens.slice(1), broken } };
  }
  const before = flat.slice(0, equals);
  const body = { words: regroup(flat.slice(equals + 1)), broken };
  if (before.length === 0) {
    problems.report('missing-name', rangeOf(flat[equals]!), { facts: { kind } });
    return { name: null, body };
  }
  const name = wordOf(before);
  if (isName(name.text)) return { name, body };
  problems.report('bad-name', name.range, { facts: { kind, name: name.text.slice(0, 40) } });
  return { name: null, body };
}

/** A name in quotes, as a lesson and a phrase have theirs; its range is that of the quotes. */
function quotedName(tokens: readonly IToken[] | undefined): Word | null {
  if (tokens === undefined || tokens.length === 0) return null;
  const { text, range } = wordOf(tokens);
  const isOneWord = text.length === range.end - range.start;
  const name = !isOneWord ? undefined : /^["“”]([^"“”]+)["“”]$/.exec(text)?.[1];
  return name !== undefined && isName(name) ? { text: name, range } : null;
}

/** Tokens back into words: neighbours without white space between them. */
function regroup(tokens: readonly IToken[]): IToken[][] {
  const words: IToken[][] = [];
  let end = -1;
  for (const token of tokens) {
    if (token.startOffset === end) words[words.length - 1]!.push(token);
    else words.push([token]);
    end = rangeOf(token).end;
  }
  return words;
}

function changesItem(raw: RawRow, comments: readonly Comment[], problems: Problems): ChangesItem {
  const { name, body } = readName(raw, problems);
  const bars = chordBars({ ...raw, segments: [body, ...raw.segments.slice(1)] }, problems);
  if (bars.length === 0 && name !== null)
    problems.report('missing-text', name.range, { facts: { word: 'changes', wants: 'chords between bar lines' } });
  return {
    kind: 'changes',
    range: { start: raw.keyword.startOffset, end: rowEnd(raw) },
    keyword: wordOf([raw.keyword]),
    comments,
    name,
    bars,
  };
}

function cellItem(raw: RawRow, comments: readonly Comment[], problems: Problems): CellItem {
  const { name, body } = readName(raw, problems);
  for (const line of raw.barLines) {
    const place = rangeOf(line);
    problems.report('cell-bar-line', place, {
      fixes: [{ title: 'Take the bar line away', safe: false, edits: [{ range: place, text: '' }] }],
    });
  }
  const words = [body, ...raw.segments.slice(1)].flatMap((segment) => segment.words);
  const before = problems.found.length;
  const groups = words.map((word): Group => readGroup(word, problems).group);
  problems.replace(before, (found) => gatherLowerCase(found, groups, 'cell'));
  for (const group of groups) {
    if (group.kind === 'cell') problems.report('cell-in-cell', group.range, { facts: { name: group.name.text } });
  }
  if (groups.length === 0 && name !== null)
    problems.report('missing-text', name.range, { facts: { word: 'cell', wants: 'notes or degrees' } });
  return {
    kind: 'cell',
    range: { start: raw.keyword.startOffset, end: rowEnd(raw) },
    keyword: wordOf([raw.keyword]),
    comments,
    name,
    groups,
  };
}

// ── Music rows ─────────────────────────────────────────────────────────────────────────────────────────────────────────────

function overRow(raw: RawRow, problems: Problems): OverRow {
  const only = raw.barLines.length === 0 && raw.segments[0]!.words.length === 1 ? wordOf(raw.segments[0]!.words[0]!) : null;
  const changes = only !== null && isName(only.text) ? only : null;
  return {
    kind: 'over',
    keyword: wordOf([raw.keyword]),
    range: { start: raw.keyword.startOffset, end: rowEnd(raw) },
    changes,
    bars: changes === null ? chordBars(raw, problems) : [],
  };
}

function chordBars(raw: RawRow, problems: Problems): ChordBar[] {
  return barsOf(raw, problems).map(({ range, open, close, double, words }) => {
    const shares = words.map((word): Share => readShare(word, problems));
    reportLonelyPercent(shares, problems);
    return { range, open, close, double, broken: shares.some((share) => share.kind === 'bad'), shares };
  });
}

function lineRow(raw: RawRow, problems: Problems): LineRow {
  const before = problems.found.length;
  const bars = barsOf(raw, problems).map(({ range, open, close, double, words }): LineBar => {
    const read = words.map((word) => readGroup(word, problems));
    return { range, open, close, double, broken: read.some(({ broken }) => broken), groups: read.map(({ group }) => group) };
  });
  problems.replace(before, (found) =>
    gatherLowerCase(
      found,
      flatMap(bars, (bar) => bar.groups),
      'line',
    ),
  );
  return { kind: 'line', keyword: wordOf([raw.keyword]), range: { start: raw.keyword.startOffset, end: rowEnd(raw) }, bars };
}

function degreesRow(raw: RawRow, problems: Problems): DegreesRow {
  const bars = barsOf(raw, problems).map(({ range, open, close, double, words }): FigureBar => {
    const groups = words.map((word) => figureGroup(word, problems));
    return { range, open, close, double, broken: groups.some((group) => group.slots.some((slot) => slot.kind === 'bad')), groups };
  });
  return { kind: 'degrees', keyword: wordOf([raw.keyword]), range: { start: raw.keyword.startOffset, end: rowEnd(raw) }, bars };
}

function figureGroup(tokens: readonly IToken[], problems: Problems): FigureGroup {
  const slots: FigureSlot[] = [];
  let expected = true;
  for (const token of tokens) {
    const range = rangeOf(token);
    if (token.tokenType === Hyphen) {
      if (expected)
        problems.report('loose-hyphen', range, { fixes: [{ title: 'Take the hyphen away', safe: false, edits: [{ range, text: '' }] }] });
      expected = true;
      continue;
    }
    if (!expected) {
      problems.report('unreadable-word', rangeOf(tokens[0]!, tokens[tokens.length - 1]), {
        facts: { word: wordOf(tokens).text.slice(0, 40), offer: '' },
      });
      return { range: rangeOf(tokens[0]!, tokens[tokens.length - 1]), slots: [{ kind: 'bad', range }] };
    }
    slots.push(figureSlot(token, problems));
    expected = false;
  }
  const last = tokens[tokens.length - 1]!;
  if (expected && tokens.length > 1) problems.report('loose-hyphen', rangeOf(last), { fixes: [] });
  return { range: rangeOf(tokens[0]!, last), slots: slots.length === 0 ? [{ kind: 'bad', range: rangeOf(tokens[0]!) }] : slots };
}

function figureSlot(token: IToken, problems: Problems): FigureSlot {
  const range = rangeOf(token);
  if (token.tokenType === Star || token.tokenType === Hold || token.tokenType === Rest) return { kind: 'blank', range };
  if (token.tokenType === Figure) {
    const head = readFigure(token, range, problems);
    return head === null ? { kind: 'bad', range } : { kind: 'figure', range, head };
  }
  problems.report('unreadable-word', range, { facts: { word: token.image.slice(0, 40), offer: '' } });
  return { kind: 'bad', range };
}

// ── Bars ───────────────────────────────────────────────────────────────────────────────────────────────────────────────────

interface RawBar {
  readonly range: Range;
  readonly open: Range | null;
  readonly close: Range | null;
  readonly double: boolean;
  readonly words: readonly (readonly IToken[])[];
}

/** The bars of a row: what stands between bar lines. Where the row is broken over two lines, the two bar lines there are one. */
function barsOf(raw: RawRow, problems: Problems): RawBar[] {
  const bars: RawBar[] = [];
  for (const line of raw.barLines)
    if (line.tokenType === RepeatSign)
      problems.report('repeat-sign', rangeOf(line), { facts: { sign: line.image }, fixes: [writing(rangeOf(line), '|')] });
  raw.segments.forEach((segment, i) => {
    const open = i === 0 ? null : raw.barLines[i - 1]!;
    const close = raw.barLines[i] ?? null;
    const empty = segment.words.length === 0;
    if (empty && (open === null || close === null || segment.broken)) return;
    const range = empty ? { start: rangeOf(open!).end, end: rangeOf(open!).end } : rangeOf(segment.words[0]![0]!, lastToken(segment));
    bars.push({
      range,
      words: segment.words,
      open: open === null ? null : rangeOf(open),
      close: close === null ? null : rangeOf(close),
      double: close !== null && close.image === '||',
    });
  });
  return bars;
}

function lastToken(segment: RawSegment): IToken {
  const word = segment.words[segment.words.length - 1]!;
  return word[word.length - 1]!;
}
