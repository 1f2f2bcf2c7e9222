/** Shifts in words, by the names of intervals that any textbook has (common practice). */
import { expect, test } from 'vitest';
import { intervalWords } from '../../server/src/theory/interval';

test.each([
  [2, 3, 'a minor third higher'], [-3, -5, 'a perfect fourth lower'], [3, 6, 'an augmented fourth higher'], [4, 6, 'a diminished fifth higher'], [-1, -1, 'a minor second lower'],
  [7, 12, 'an octave higher'], [8, 14, 'an octave and a major second higher'], [-14, -24, '2 octaves lower'], [0, 1, 'an augmented unison higher'], [0, 0, 'at the same height'],
])('%i letters, %i half steps: %s', (diatonic, chromatic, words) => {
  expect(intervalWords({ diatonic, chromatic })).toBe(words);
});
