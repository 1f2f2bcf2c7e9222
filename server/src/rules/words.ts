/** Small words that several rules share: how a teacher names a degree, a beat and a duration. */
import { PARTS } from '../model/beat-words';
import { Fraction } from '../model/fraction';
import type { Figure } from '../theory/types';

export { beatWords } from '../model/beat-words';

const NUMBERS: Readonly<Record<number, string>> = {
  1: 'root',
  2: 'second',
  3: 'third',
  4: 'fourth',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
  9: 'ninth',
  11: 'eleventh',
  13: 'thirteenth',
};

/** The ordinal of a degree without its colour: `third`, `ninth`. */
export function numberWord(figure: Figure): string {
  return NUMBERS[figure.number]!;
}

/** A degree with its colour, as it is said aloud: `flat nine`, `major third`, `eleventh`. */
export function degreeName(figure: Figure): string {
  const { number, alter } = figure;
  if (number === 3 || number === 7) return `${['diminished', 'minor', 'major'][alter + 2] ?? 'augmented'} ${numberWord(figure)}`;
  if (alter === 0) return number === 5 ? 'perfect fifth' : numberWord(figure);
  return `${alter < 0 ? 'flat' : 'sharp'} ${COUNTED[number]!}`;
}

const COUNTED: Readonly<Record<number, string>> = {
  1: 'one',
  2: 'two',
  4: 'four',
  5: 'five',
  6: 'six',
  9: 'nine',
  11: 'eleven',
  13: 'thirteen',
};

const COUNT = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** A number of felt beats (`5/2`, exact) as it is said: `a beat`, `half a beat`, `two and a half beats`; in figures where no one has words for it. */
export function durationWords(beats: string): string {
  const value = new Fraction(beats);
  const [whole, rest] = [Number(value.floor().valueOf()), value.sub(value.floor())];
  const [count, size] = [Number(rest.n), PARTS[Number(rest.d)]];
  if (count === 0) return whole === 1 ? 'a beat' : `${COUNT[whole] ?? String(whole)} beats`;
  if (size === undefined || COUNT[whole] === undefined) return `${value.toFraction(true)} beats`;
  const part =
    count === 1 ? `${size === 'half' && whole === 0 ? '' : size === 'eighth' ? 'an ' : 'a '}${size}` : `${COUNT[count]!} ${size}s`;
  if (whole > 0) return `${COUNT[whole]!} and ${part} beats`;
  return `${part} ${size === 'half' ? '' : 'of '}a beat`;
}

/** Words as they begin a sentence. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** With `a` or `an` before it: `an F lydian vamp`, `an octave`; a numeral is read as a number: `a ii–V–I`. */
export function withArticle(words: string): string {
  const isNumeral = /^[b#]?[ivIV]+[°ø]?–/.test(words);
  return `${!isNumeral && /^(?:[aeiou]|[AEF][b#]?(?: |m|maj|\d))/.test(words) ? 'an' : 'a'} ${words}`;
}
