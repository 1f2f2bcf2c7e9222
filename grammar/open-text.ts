/** Lines of prose that begin with the word of an item, in a text whose closing quote is missing: told from items by the line alone and those above it. */
import { beginsItem } from './rows';

/** A text that goes on in more lines lacks its quote for another reason. */
export const MOST_LINES = 12;

/** The words of rows that have a text in quotes. */
const TEXT_WORDS: ReadonlySet<string> = new Set(['say', 'about', 'lesson', 'phrase']);
/** What prose ends with. */
const ENDS_SENTENCE = /[.,;:!?…)]["“”]?$/;
/** A note, a figure or a chord, which a definition has. */
const MUSIC = /(?:^|[\s(/\\-])(?:[A-G](?:[b#♭♯]?\d?(?=[\s-]|$)|[b#♭♯mM°øΔ\d])|[b#n]?\d+(?=[\s-]|$))/;
/** A title without its quotes is shorter. */
const LONGEST_TITLE = 3;

/** A text that is closed in its line. */
const CLOSED = /^[a-z]+ +"[^"“”\\]*"$/;

/** Whether a row that begins with the word has a text in quotes. */
export function beginsText(word: string): boolean {
  return TEXT_WORDS.has(word);
}

/** Whether a line of music stands there: it has a note, a figure or a chord. */
export function hasMusic(line: string): boolean {
  return MUSIC.test(line);
}

/** The quotes of a line that stand for themselves: what is escaped is none, and a backslash may be. */
export function quotesIn(line: string): number {
  return line.replaceAll(/\\./g, '').match(/["“”]/g)?.length ?? 0;
}

/** In how many more lines a text may go on after a trimmed line, where it was so many (`before`; 0: none is open) before it. */
export function openAfter(line: string, before: number): number {
  if (line === '' || line.startsWith('//') || line.includes('|') || CLOSED.test(line)) return 0;
  const quotes = quotesIn(line);
  if (beginsText(/^([a-z]+)[^\S\r\n]*["“”]/.exec(line)?.[1] ?? '')) return quotes === 1 ? MOST_LINES : 0;
  return quotes === 0 ? Math.max(0, before - 1) : 0;
}

/** Whether a trimmed line that begins with the word of an item reads as prose, and not as the item. */
export function readsAsProse(line: string): boolean {
  const [word = '', rest = ''] = /^(\S+)[^\S\r\n]+(.*)$/.exec(line)?.slice(1) ?? [];
  if (!beginsItem(word) || /^["“”]/.test(rest) || quotesIn(rest) > 1 || !/^\p{Ll}/u.test(rest)) return false;
  const words = rest.split(/\s+/).length;
  const isSentence = ENDS_SENTENCE.test(rest) || /["“”]$/.test(rest);
  if (word === 'phrase' || word === 'lesson') return isSentence || words > LONGEST_TITLE;
  return !/[=|]/.test(rest) && !hasMusic(rest) && (isSentence || words > 1);
}
