/** Words of a row taken together. */
import type { Word } from './tree';

/** Several words as one, as a part's name may be said: `tenor sax`. */
export function joined(words: readonly Word[]): Word | null {
  const [first, last] = [words[0], words[words.length - 1]];
  return first === undefined || last === undefined
    ? null
    : { text: words.map(({ text }) => text).join(' '), range: { start: first.range.start, end: last.range.end } };
}

/** For a message: no more than fits into it. */
export function textOf(words: readonly Word[]): string {
  return words
    .map((word) => word.text)
    .join(' ')
    .slice(0, 40);
}
