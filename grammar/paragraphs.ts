/** Prose in `say` rows: which rows are one paragraph, what it tells, and how a long one is broken over rows. */
import type { Row, SayRow } from './tree';

/** Runs of `say` rows that follow one another, comment lines between them or not; a blank line or anything else starts a new one. */
export function paragraphRows(rows: readonly Row[], text: string): readonly (readonly SayRow[])[] {
  const runs: SayRow[][] = [];
  let before: Row | null = null;
  for (const row of rows) {
    if (row.kind === 'say') {
      if (before?.kind === 'say' && isNext(text.slice(before.range.end, row.range.start))) runs[runs.length - 1]!.push(row);
      else runs.push([row]);
    }
    before = row;
  }
  return runs;
}

/** Whether what stands between two rows is their line ends and comment lines. */
function isNext(between: string): boolean {
  return between
    .split(/\r\n|\r|\n/)
    .slice(1, -1)
    .every((line) => line.trimStart().startsWith('//'));
}

/** What the paragraphs of some rows tell: the texts of each, joined by a space. White space alone tells nothing. */
export function paragraphsOf(rows: readonly Row[], text: string): readonly string[] {
  return paragraphRows(rows, text)
    .map((run) => run.flatMap((row) => (row.text === null || row.text.value === '' ? [] : [row.text.value])).join(' '))
    .filter((told) => told.trim() !== '');
}

/**
 * Breaks the texts of rows (as written, escapes and all) so that none is longer than `room` signs, unless it is a single word; what does not fit goes to the front of
 * the next. A row that fits, and that nothing runs over into, stays as it is. Answers the texts that each row turns into, one or
 * more; joined by spaces all are what they were.
 */
export function brokenTexts(texts: readonly string[], room: number): readonly (readonly string[])[] {
  let over: string[] = [];
  return texts.map((text, i) => {
    const whole = [...over, text].join(' ');
    over = [];
    if (signs(whole) <= room) return [whole];
    const filled = fill(words(whole), room);
    if (i < texts.length - 1 && filled.length > 1) over = filled.splice(-1);
    return filled;
  });
}

/** Words as a break may part them: at one space between two signs, neither of them white space nor the space escaped. */
function words(text: string): string[] {
  return text.split(/(?<=[^\s\\]|(?:^|[^\\])(?:\\\\)+) (?=\S)/);
}

function fill(parts: readonly string[], room: number): string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const last = lines[lines.length - 1];
    if (last !== undefined && signs(last) + 1 + signs(part) <= room) lines[lines.length - 1] = `${last} ${part}`;
    else lines.push(part);
  }
  return lines;
}

/** The length of a text in characters; a surrogate pair is one. */
function signs(text: string): number {
  return [...text].length;
}
