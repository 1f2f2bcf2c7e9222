/** Prose broken into lines, by the widths of the lettering. */
import type { Words } from '../picture/emphasis';
import { measure } from '../picture/measure';

/** A run of letters of one look; `x` counts from the start of its line. */
export interface Run extends Words {
  readonly x: number;
  readonly width: number;
}

/** Breaks words into lines no wider than `width`, all in the units of `size`; a word that is wider than that is cut. At least one line. */
export function linesOf(words: readonly Words[], size: number, width: number): Run[][] {
  const lines: Run[][] = [];
  let line: Run[] = [];
  let at = 0;
  const close = (): void => {
    lines.push(trimmed(line));
    line = [];
    at = 0;
  };
  const add = (text: string, look: Words): void => {
    const long = widthOf({ ...look, text }, size);
    const last = line[line.length - 1];
    if (last !== undefined && last.isStrong === look.isStrong && last.isEmphasized === look.isEmphasized)
      line[line.length - 1] = { ...last, text: last.text + text, width: last.width + long };
    else line.push({ ...look, text, x: at, width: long });
    at += long;
  };
  for (const group of unbroken(words)) {
    const isSpace = group.every(({ text }) => text.trim() === '');
    const long = group.reduce((sum, one) => sum + widthOf(one, size), 0);
    if (isSpace) {
      // No line begins with a space.
      if (line.length > 0) add(' ', group[0]!);
      continue;
    }
    if (at > 0 && at + long > width) close();
    for (const one of group) {
      for (const piece of long > width ? [...one.text] : [one.text]) {
        if (at > 0 && at + widthOf({ ...one, text: piece }, size) > width) close();
        add(piece, one);
      }
    }
  }
  close();
  return lines;
}

/** Words and the spaces between them; a word may change its look inside. */
function unbroken(words: readonly Words[]): Words[][] {
  const groups: Words[][] = [];
  let before: 'space' | 'word' | null = null;
  for (const one of words) {
    for (const text of one.text.split(/([ \t\r\n]+)/).filter((piece) => piece !== '')) {
      const kind = text.trim() === '' ? 'space' : 'word';
      if (kind === before) groups[groups.length - 1]!.push({ ...one, text });
      else groups.push([{ ...one, text }]);
      before = kind;
    }
  }
  return groups;
}

function widthOf({ text, isStrong }: Words, size: number): number {
  return size * measure(text, isStrong ? 'bold' : 'regular').width;
}

/** Without the space that a line was broken at. */
function trimmed(line: readonly Run[]): Run[] {
  const last = line[line.length - 1];
  return last === undefined ? [] : [...line.slice(0, -1), { ...last, text: last.text.trimEnd() }].filter(({ text }) => text !== '');
}
