/** Small words that several rules share: how a teacher names a degree and a beat. */
import type { Figure } from '../theory/types';

const NUMBERS: Readonly<Record<number, string>> = {
  1: 'root', 2: 'second', 3: 'third', 4: 'fourth', 5: 'fifth', 6: 'sixth', 7: 'seventh', 9: 'ninth', 11: 'eleventh', 13: 'thirteenth',
};

/** The ordinal of a degree without its colour: `third`, `ninth`. */
export function numberWord(figure: Figure): string {
  return NUMBERS[figure.number]!;
}

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
