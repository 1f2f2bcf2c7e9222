/** Exact time counts as `fraction.js` does, below and above the bound to which it counts with numbers. */
import fc from 'fast-check';
import Large from 'fraction.js';
import { expect, test } from 'vitest';
import { Fraction, fractionNear } from '../../server/src/model/fraction';
import { always } from './arbitrary';
import { expectEqual } from './equal';

const EDGE = 2 ** 26;
const count = fc.oneof(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -EDGE - 3, max: EDGE + 3 }), fc.maxSafeInteger());
const size = fc.oneof(
  fc.integer({ min: 1, max: 64 }),
  fc.integer({ min: EDGE - 3, max: EDGE + 3 }),
  fc.integer({ min: 1, max: Number.MAX_SAFE_INTEGER }),
);
const pair = fc.tuple(count, size);

/** Numerator, denominator and what is written, which is all there is of a fraction. */
const seen = (one: Fraction): unknown[] => [one.n, one.d, one.toFraction(), one.toFraction(true), one.valueOf(), one.compare(0)];
const wanted = (one: Large): unknown[] => [one.n, one.d, one.toFraction(), one.toFraction(true), one.valueOf(), one.compare(0)];

test('every operation has the result of the library, however large the numbers', () => {
  always(
    fc.property(pair, pair, (a, b) => {
      const [x, y] = [new Fraction(...a), new Fraction(...b)];
      const [p, q] = [new Large(...a), new Large(...b)];
      expectEqual(seen(x), wanted(p));
      for (const operation of ['add', 'sub', 'mul'] as const) {
        expectEqual(seen(x[operation](y)), wanted(p[operation](q)), operation);
        expectEqual(seen(x[operation](b[0])), wanted(p[operation](b[0])), operation);
      }
      if (b[0] !== 0) expectEqual(seen(x.div(y)), wanted(p.div(q)));
      for (const operation of ['neg', 'abs', 'floor', 'ceil', 'round'] as const)
        expectEqual(seen(x[operation]()), wanted(p[operation]()), operation);
      expectEqual([x.compare(y), x.equals(y), x.compare(b[0])], [p.compare(q), p.equals(q), p.compare(b[0])]);
      // What is put off to the library comes back once it is small, and is the same fraction.
      expectEqual(x.add(y).sub(y), x);
    }),
    { numRuns: 2000 },
  );
});

test('a number is taken for the fraction that it comes from, and for one as near as it can be told where it comes from none', () => {
  const term = fc.integer({ min: 1, max: 2 ** 20 });
  always(
    fc.property(fc.integer({ min: -(2 ** 20), max: 2 ** 20 }), term, (above, below) => {
      const known = new Fraction(above, below);
      expect(fractionNear(known.valueOf()).toFraction()).toBe(known.toFraction());
    }),
    { numRuns: 2000 },
  );
  always(
    fc.property(fc.double({ min: -(2 ** 26) + 1, max: 2 ** 26 - 1, noNaN: true }), (value) => {
      const { d } = fractionNear(value);
      expect(Math.abs(fractionNear(value).valueOf() - value) * Number(d)).toBeLessThanOrEqual(1);
      expect(d).toBeLessThan(2n ** 26n);
    }),
    { numRuns: 2000 },
  );
});

test('texts and numbers with a point are read as the library reads them', () => {
  for (const value of ['3/2', '-7', '0.25', 0.1, -2.5, 1e20]) {
    expect([...seen(new Fraction(value)), String(new Fraction(value))]).toEqual([...wanted(new Large(value)), String(new Large(value))]);
  }
  expect([seen(new Fraction(3, -6)), seen(new Fraction(0, 5).neg())]).toEqual([wanted(new Large(-1, 2)), wanted(new Large(0))]);
  expect(Object.is(new Fraction(0).neg().valueOf(), 0)).toBe(true);
});

test('a denominator of 0 and what is no number are refused', () => {
  expect(() => new Fraction(1, 0)).toThrow('Division by Zero');
  expect(() => new Fraction(1).div(0)).toThrow('Division by Zero');
  expect(() => new Fraction(NaN)).toThrow('Invalid argument');
  expect(() => new Fraction('a lot')).toThrow();
});
