/** Small words that several rules share: how a teacher names a degree and a beat. */
import type { Figure } from '../theory/types';

const NUMBERS: Readonly<Record<number, string>> = {
  1: 'root', 2: 'second', 3: 'third', 4: 'fourth', 5: 'fifth', 6: 'sixth', 7: 'seventh', 9: 'ninth', 11: 'eleventh', 13: 'thirteenth',
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

const COUNTED: Readonly<Record<number, string>> = { 1: 'one', 2: 'two', 4: 'four', 5: 'five', 6: 'six', 9: 'nine', 11: 'eleven', 13: 'thirteen' };

/** A beat as it is counted aloud: `3`, `the "and" of 3`, or the exact fraction where neither fits. */
export function beatWords(beat: string): string {
  const [whole, fraction] = beat.split('+');
  if (fraction === undefined) return `beat ${whole}`;
  return fraction === '1/2' ? `the “and” of ${whole}` : `beat ${beat}`;
}

/** Words as they begin a sentence. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
