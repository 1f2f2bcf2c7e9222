/** Figures above notes do not run into each other, however close the notes stand. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { FIGURE_SIZE, noteStart, widthLeft } from '../../client/src/degree-room';
import { always } from '../property/arbitrary';

const FIGURES = ['1', '3', '5', '9', '11', '13', 'b3', 'b7', '#9', 'n7', '#11', 'b13', 'bb7', '#13'];

test('b13 right before b7 is narrowed, a short figure or a far one is not', () => {
  // D-C: D begins in column 1, C in column 3.
  expect(widthLeft('b13', 2)).toBeLessThan(1);
  expect(widthLeft('b7', 2)).toBe(1);
  expect(widthLeft('b13', 3)).toBe(1);
  expect(widthLeft('b13', Infinity)).toBe(1);
});

test('between two figures is room, and none is narrowed past reading', () => {
  always(
    fc.property(fc.constantFrom(...FIGURES), fc.integer({ min: 2, max: 12 }), (figure, columns) => {
      const left = widthLeft(figure, columns);
      expect(columns - left * FIGURE_SIZE * figure.length).toBeGreaterThanOrEqual(0.39);
      expect(left).toBeGreaterThan(0.8);
    }),
    { numRuns: 100 },
  );
});

test.each([
  ['  line | Bb4-D', 11, 9],
  ['  line | Bb4-D', 13, 12],
  ['|2:\\(G5)!>', 10, 5],
  ['| C–/F#5', 8, 5],
  ['C4', 2, 0],
  ['', 0, 0],
] as const)('the note of %j that ends in column %i begins in column %i', (line, end, start) => {
  expect(noteStart(line, end)).toBe(start);
});
