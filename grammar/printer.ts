/** Formatting: rows of a system aligned by time, every comment and every unreadable bar kept, the music unchanged. */
import { alignRows, PICKUP, type Placed, type RowBar, type RowLine } from './layout';
import { lineBreakOf } from './lines';
import { pairedRows } from './pairing';
import { brokenTexts, paragraphRows } from './paragraphs';
import { parseFile } from './parser';
import { beatCount, firstBarIs, groupBeats, isMusicRow, systemsOf, type SystemRows } from './systems';
import type {
  CellItem,
  ChordBar,
  DegreesRow,
  FigureBar,
  Group,
  Item,
  LineBar,
  LineRow,
  NoteNode,
  OverRow,
  PlacedSlice,
  Range,
  Row,
  SayRow,
  TextEdit,
} from './tree';

/** Columns from the start of a row's word to what it says: of a phrase, of a lesson. */
export const KEYWORD_WIDTH = 8;
export const LESSON_WIDTH = 7;
/** Prose is broken at this column. */
const PROSE_WIDTH = 90;

/** The formatted text of a file. Formatting it again changes nothing. */
export function formatText(text: string): string {
  return applyEdits(text, formatEdits(text, parseFile(text)));
}

/** The edits that format a file, one a changed line (or, where prose runs over, one a stretch of rows), in order. Ranges are offsets in the file. */
export function formatEdits(text: string, slices: readonly PlacedSlice[]): TextEdit[] {
  const cells = cellSizes(slices);
  const edits: TextEdit[] = [];
  for (const { start, parsed } of slices) {
    const lines = linesOf(parsed.text);
    const { fresh, stretches } = formatSlice(parsed.text, parsed.item, lines, cells);
    for (let i = 0; i < lines.length; i += 1) {
      const from = lines[i]!.start;
      const stretch = stretches.get(i);
      const wanted = stretch?.text ?? fresh.get(i) ?? tidy(parsed.text.slice(from, lines[i]!.end), parsed.item);
      // An editor may apply the edits of some lines alone: what moves from row to row is one edit.
      i = stretch?.last ?? i;
      const to = lines[i]!.end;
      if (wanted !== parsed.text.slice(from, to)) edits.push({ range: { start: start + from, end: start + to }, text: wanted });
    }
  }
  if (text !== '' && !/[\r\n]$/.test(text))
    edits.push({ range: { start: text.length, end: text.length }, text: text.includes('\r\n') ? '\r\n' : '\n' });
  return edits;
}

export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = '';
  let at = 0;
  for (const edit of edits) {
    result += text.slice(at, edit.range.start) + edit.text;
    at = edit.range.end;
  }
  return result + text.slice(at);
}

function linesOf(text: string): Range[] {
  const lines: Range[] = [];
  let start = 0;
  for (const match of text.matchAll(/\r\n|\r|\n/g)) {
    lines.push({ start, end: match.index });
    start = match.index + match[0].length;
  }
  if (start < text.length) lines.push({ start, end: text.length });
  return lines;
}

/** A line that belongs to no row that could be laid out: only its trailing white space goes. */
function tidy(line: string, item: Item): string {
  const content = line.trim();
  if (content.startsWith('//') && item.kind === 'phrase' && /^\s/.test(line)) return `  ${content}`;
  return line.trimEnd();
}

/** How many groups each cell has. */
type CellSizes = ReadonlyMap<string, CellItem>;

function cellSizes(slices: readonly PlacedSlice[]): CellSizes {
  const sizes = new Map<string, CellItem>();
  for (const {
    parsed: { item },
  } of slices) {
    const cells =
      item.kind === 'cell' ? [item] : item.kind === 'phrase' ? item.nested.filter((one): one is CellItem => one.kind === 'cell') : [];
    for (const cell of cells) if (cell.name !== null && !sizes.has(cell.name.text)) sizes.set(cell.name.text, cell);
  }
  return sizes;
}

// ── Slices ─────────────────────────────────────────────────────────────────────────────────────────────────────────────────

interface Page {
  readonly text: string;
  readonly lines: readonly Range[];
  readonly item: Item;
  readonly cells: CellSizes;
  /** The new text of each line that is laid out. */
  readonly fresh: Map<number, string>;
  /** The new text of several lines at once, by the first of them; `last` is the last. */
  readonly stretches: Map<number, { readonly last: number; readonly text: string }>;
}

function formatSlice(text: string, item: Item, lines: readonly Range[], cells: CellSizes): Page {
  const page: Page = { text, lines, item, cells, fresh: new Map(), stretches: new Map() };
  switch (item.kind) {
    case 'phrase':
      headLine(page, 0);
      for (const row of item.rows) if (!isMusicRow(row)) wordRow(page, row, '  ', KEYWORD_WIDTH);
      breakProse(page, item.rows, '  '.length + KEYWORD_WIDTH);
      for (const nested of item.nested) definition(page, nested, '  ');
      formatSystems(page, item.rows);
      break;
    case 'lesson':
      headLine(page, LESSON_WIDTH);
      for (const row of item.rows) wordRow(page, row, '', LESSON_WIDTH);
      breakProse(page, item.rows, LESSON_WIDTH);
      break;
    case 'changes':
    case 'cell':
      definition(page, item, '');
      break;
    case 'stray':
  }
  return page;
}

function lineOf({ lines }: Page, offset: number): number {
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lines[middle]!.start <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The comment that ends a line, with a space before it; empty where there is none. */
function trailing({ item, lines }: Page, line: number): string {
  const comment = item.comments.find(({ range }) => range.start > lines[line]!.start && range.start < lines[line]!.end);
  return comment === undefined ? '' : ` ${comment.text.trimEnd()}`;
}

/** The line's text without its trailing comment. */
function bare(page: Page, line: number): string {
  const { start, end } = page.lines[line]!;
  const comment = page.item.comments.find(({ range }) => range.start >= start && range.start < end);
  return page.text.slice(start, comment?.range.start ?? end);
}

function headLine(page: Page, width: number): void {
  const { keyword } = page.item;
  const line = lineOf(page, keyword.range.start);
  const before = page.text.slice(page.lines[line]!.start, keyword.range.start);
  const rest = bare(page, line)
    .slice(keyword.range.end - page.lines[line]!.start)
    .trim();
  const mark = before.startsWith('\uFEFF') ? '\uFEFF' : '';
  page.fresh.set(line, `${mark}${keyword.text.padEnd(width)}${width === 0 ? ' ' : ''}${rest}`.trimEnd() + trailing(page, line));
}

/** A row of words keeps its words; between those of plain properties one space is enough. */
function wordRow(page: Page, row: Row, indent: string, width: number): void {
  const line = lineOf(page, row.keyword.range.start);
  const rest = bare(page, line)
    .slice(row.keyword.range.end - page.lines[line]!.start)
    .trim();
  const plain = ['key', 'meter', 'tempo', 'part', 'level', 'tag', 'claim'].includes(row.kind) && !/["“”]/.test(rest);
  const words = plain ? rest.replace(/\s+/g, ' ') : rest;
  // A row that says nothing known keeps every sign as it stands.
  const content =
    row.kind === 'unknown' ? bare(page, line).trim() : `${row.keyword.text.padEnd(Math.max(width, row.keyword.text.length + 1))}${words}`;
  page.fresh.set(line, `${indent}${content}`.trimEnd() + trailing(page, line));
}

/** Breaks paragraphs whose rows are too long; a comment that ends a row stays behind the last of what the row says. */
function breakProse(page: Page, rows: readonly Row[], indent: number): void {
  for (const run of paragraphRows(rows, page.text).flatMap((paragraph) => unbrokenRuns(page, paragraph))) {
    const literals = run.map(({ text }) => page.text.slice(text!.range.start, text!.range.end));
    const inner = literals.map((literal) => literal.slice(1, -1));
    const broken = brokenTexts(inner, PROSE_WIDTH - indent - 2);
    const stays = (i: number): boolean => broken[i]!.length === 1 && broken[i]![0] === inner[i];
    for (let i = 0; i < run.length; i += 1) {
      if (stays(i)) continue;
      const first = lineOf(page, run[i]!.range.start);
      const texts: string[] = [];
      for (; i < run.length && !stays(i); i += 1) {
        const head = page.fresh.get(lineOf(page, run[i]!.range.start))!.slice(0, indent);
        const [open, close] = [literals[i]![0]!, literals[i]!.at(-1)!];
        texts.push(...broken[i]!.map((text) => head + open + text + close));
      }
      const last = lineOf(page, run[i - 1]!.range.start);
      page.stretches.set(first, { last, text: texts.join(lineBreakOf(page.text)) + trailing(page, last) });
    }
  }
}

/** The rows of a paragraph, parted where text may not run over into the next: at a comment, and at a text that is missing, empty or not well written. */
function unbrokenRuns(page: Page, paragraph: readonly SayRow[]): SayRow[][] {
  const runs: SayRow[][] = [];
  let follows = -1;
  for (const row of paragraph) {
    const { text, range } = row;
    const line = lineOf(page, range.start);
    const isPlain =
      text !== null &&
      text.closed &&
      text.value !== '' &&
      text.range.end === range.end &&
      lineOf(page, text.range.start) === line &&
      page.text.slice(row.keyword.range.end, text.range.start).trim() === '';
    if (isPlain) {
      if (line === follows) runs[runs.length - 1]!.push(row);
      else runs.push([row]);
    }
    follows = isPlain && trailing(page, line) === '' ? line + 1 : -1;
  }
  return runs;
}

/** A definition: its name, the sign, and its bars or groups with one space between them. */
function definition(page: Page, item: Extract<Item, { kind: 'changes' | 'cell' }>, indent: string): void {
  const first = lineOf(page, item.keyword.range.start);
  if (item.name === null || lineOf(page, Math.max(item.range.end - 1, item.range.start)) !== first) return;
  const source = bare(page, first);
  const equals = source.indexOf('=');
  if (equals < 0 || hasForeignSigns(source)) return;
  const head = `${indent}${item.keyword.text.padEnd(KEYWORD_WIDTH)}${item.name.text} = `;
  const body =
    item.kind === 'changes'
      ? alignRows([{ first: 0, bars: item.bars.map((bar) => chordBar(bar, page)) }])[0]!
      : item.groups.map((group) => groupText(group, page.text)).join(' ');
  if (item.kind === 'cell' && source.includes('|')) return;
  page.fresh.set(first, (head + body).trimEnd() + trailing(page, first));
}

/** Repeat signs and glued comments: a line with such is left as it is. */
function hasForeignSigns(source: string): boolean {
  return /\|:|:\||\/\//.test(source);
}

// ── Systems ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

interface Segment extends RowLine {
  readonly line: number;
  readonly keyword: string;
}

function formatSystems(page: Page, rows: readonly Row[]): void {
  const systems = systemsOf(rows);
  const firstLine = systems.flatMap((system) => system.rows).find((row) => row.kind === 'line');
  for (const system of systems) {
    const segments = systemSegments(page, system, firstLine);
    const texts = alignRows(segments);
    segments.forEach((segment, i) => {
      const head = `  ${segment.keyword.padEnd(KEYWORD_WIDTH)}`;
      page.fresh.set(segment.line, (head + texts[i]!).trimEnd() + trailing(page, segment.line));
    });
  }
}

/** A line row with the number of its first bar in the system, and where its groups stand in their bars. */
interface NumberedLine {
  readonly row: LineRow;
  readonly first: number;
  readonly bars: readonly Placed[][];
}

function systemSegments(page: Page, { over, rows, meter }: SystemRows, firstLine: Row | undefined): Segment[] {
  const segments: Segment[] = over === null ? [] : overSegments(page, over);
  const cellNamed = (name: string): CellItem | undefined => page.cells.get(name);
  let nextBar = 0;
  let lines: NumberedLine[] = [];
  let figures: DegreesRow[] = [];
  const settle = (): void => {
    const pairs = pairedRows(
      lines.map(({ row }) => row),
      figures,
    );
    figures.forEach((row, i) =>
      segments.push(
        ...figureSegments(
          page,
          row,
          pairs[i]!.map((line) => lines[line]!),
        ),
      ),
    );
    lines = [];
    figures = [];
  };
  for (const row of rows) {
    if (row.kind === 'degrees') {
      figures.push(row);
      continue;
    }
    if (figures.length > 0) settle();
    const hasPickup = row === firstLine && row.bars[0] !== undefined && firstBarIs(row.bars[0], meter, cellNamed) === 'pickup';
    const first = nextBar + (hasPickup ? PICKUP : 0);
    const bars = row.bars.map((bar) => placeGroups(bar, page, beatCount(meter)));
    segments.push(
      ...segmentsOf(
        page,
        row,
        first,
        row.bars.map((bar, i) => ({ things: bars[i]!, close: closing(bar) })),
      ),
    );
    lines.push({ row, first, bars });
    nextBar = first + row.bars.length;
  }
  settle();
  return segments;
}

/** A row cut where its lines of text end; a row with signs that are not read is left alone. */
function segmentsOf(page: Page, row: OverRow | LineRow | DegreesRow, first: number, bars: readonly RowBar[]): Segment[] {
  const segments: { line: number; first: number; keyword: string; bars: RowBar[] }[] = [];
  const keywordLine = lineOf(page, row.keyword.range.start);
  row.bars.forEach((bar, i) => {
    const line = lineOf(page, bar.open?.start ?? bar.range.start);
    const current = segments[segments.length - 1];
    if (current?.line === line) current.bars.push(bars[i]!);
    else segments.push({ line, first: first + i, keyword: line === keywordLine ? row.keyword.text : '', bars: [bars[i]!] });
  });
  return segments.filter(({ line }) => !hasForeignSigns(bare(page, line)));
}

/** Every bar is closed: where the next line opens with a bar line, the two are read as one. */
function closing(bar: { readonly double: boolean }): string {
  return bar.double ? '||' : '|';
}

function chordBar(bar: ChordBar, page: Page): RowBar {
  return { things: placeShares(bar, page), close: closing(bar) };
}

function overSegments(page: Page, row: OverRow): Segment[] {
  if (row.changes === null)
    return segmentsOf(
      page,
      row,
      0,
      row.bars.map((bar) => chordBar(bar, page)),
    );
  const line = lineOf(page, row.keyword.range.start);
  page.fresh.set(line, `  ${row.keyword.text.padEnd(KEYWORD_WIDTH)}${row.changes.text}${trailing(page, line)}`);
  return [];
}

function raw({ range }: { readonly range: Range }, page: Page): string {
  return page.text.slice(range.start, range.end);
}

function placeShares(bar: ChordBar, page: Page): Placed[] {
  if (bar.broken) return [{ at: 0, text: raw(bar, page) }];
  return bar.shares.map((share, i) => ({ at: i / bar.shares.length, text: raw(share, page) }));
}

/** Each group at its share of the bar: by weights where they are written, else equally; a cell counts as all its groups. */
function placeGroups(bar: LineBar, page: Page, beats: number): Placed[] {
  if (bar.broken) return [{ at: 0, text: raw(bar, page) }];
  const sizes = bar.groups.map((group) => groupBeats(group, (name) => page.cells.get(name)));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  const whole = beats % total === 0 ? total : Math.max(total, beats);
  let at = 0;
  return bar.groups.map((group, i) => {
    const placed = { at: at / whole, text: groupText(group, page.text) };
    at += sizes[i]!;
    return placed;
  });
}

function figureSegments(page: Page, row: DegreesRow, under: readonly NumberedLine[]): Segment[] {
  const pickup = row.bars[0]?.open === null && row.bars[0].close !== null;
  const lineBars = under.flatMap((line) => line.bars);
  const groups = under.flatMap((line) => line.row.bars);
  const first = under[0]?.first ?? 0;
  const offset = first === PICKUP && !pickup ? 1 : 0;
  const bars = row.bars.map(
    (bar, i): RowBar => ({
      things: placeFigures(bar, page, lineBars[i + offset], groups[i + offset], page.cells),
      close: closing(bar),
    }),
  );
  return segmentsOf(page, row, first + offset, bars);
}

/** Figures stand under the groups they number; those of a cell share its place in equal parts. */
function placeFigures(
  bar: FigureBar,
  page: Page,
  places: readonly Placed[] | undefined,
  line: LineBar | undefined,
  cells: CellSizes,
): Placed[] {
  if (bar.broken) return [{ at: 0, text: raw(bar, page) }];
  const times = line === undefined || line.broken || places === undefined ? [] : groupTimes(line, places, cells);
  return bar.groups.map((group, i) => ({ at: times[i] ?? 2 + i, text: raw(group, page) }));
}

function groupTimes(line: LineBar, places: readonly Placed[], cells: CellSizes): number[] {
  return line.groups.flatMap((group, i) => {
    const at = places[i]!.at;
    if (group.kind === 'slots') return [at];
    const count = cells.get(group.name.text)?.groups.length ?? 1;
    const end = places[i + 1]?.at ?? 1;
    return Array.from({ length: count }, (_, k) => at + ((end - at) * k) / count);
  });
}

// ── Notes ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** A group as written, each note with its marks in the usual order: `/(G)!>`. */
export function groupText(group: Group, text: string): string {
  if (group.kind === 'cell') return text.slice(group.range.start, group.range.end);
  let result = '';
  let at = group.range.start;
  for (const slot of group.slots) {
    result += text.slice(at, slot.range.start);
    result += slot.kind === 'note' ? noteText(slot, text) : text.slice(slot.range.start, slot.range.end);
    at = slot.range.end;
  }
  return result + text.slice(at, group.range.end);
}

/** A note with direction, ghost parentheses and marks in the usual order; its head stays as the writer wrote it. */
export function noteText(note: NoteNode, text: string): string {
  return dressed(note, text.slice(note.head.range.start, note.head.range.end));
}

/** The marks of a note around another head. */
export function dressed(note: Pick<NoteNode, 'direction' | 'ghost' | 'intended' | 'accent' | 'shortAccent'>, head: string): string {
  const direction = note.direction === 'up' ? '/' : note.direction === 'down' ? '\\' : '';
  const body = note.ghost ? `(${head})` : head;
  return `${direction}${body}${note.intended ? '!' : ''}${note.accent ? '>' : ''}${note.shortAccent ? '^' : ''}`;
}
