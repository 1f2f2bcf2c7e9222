/** Shifts in words, by the names of intervals that any textbook has (common practice). */
import { expect, test } from 'vitest';
import { intervalWords } from '../../server/src/theory/interval';

test.each([
  [2, 3, 'a minor third higher'],
  [-3, -5, 'a perfect fourth lower'],
  [3, 6, 'an augmented fourth higher'],
  [4, 6, 'a diminished fifth higher'],
  [-1, -1, 'a minor second lower'],
  [7, 12, 'an octave higher'],
  [8, 14, 'an octave and a major second higher'],
  [-14, -24, '2 octaves lower'],
  [0, 0, 'at the same height'],
  // Spelled for the page: what the letters would make a diminished third, an augmented second or a second that is none.
  [-2, -2, 'a major second lower'],
  [2, 2, 'a major second higher'],
  [1, 3, 'a minor third higher'],
  [0, 1, 'a minor second higher'],
  [0, -1, 'a minor second lower'],
  [3, 4, 'a major third higher'],
  [5, 6, 'a tritone higher'],
  [7, 11, 'a major seventh higher'],
  [6, 12, 'an octave higher'],
  [1, 0, 'at the same height'],
  [9, 14, 'an octave and a major second higher'],
  [-8, -12, 'an octave lower'],
  [10, 18, 'an octave and an augmented fourth higher'],
])('%i letters, %i half steps: %s', (diatonic, chromatic, words) => {
  expect(intervalWords({ diatonic, chromatic })).toBe(words);
});
