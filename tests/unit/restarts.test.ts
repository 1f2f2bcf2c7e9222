/** When a server that ends is started again, on a clock of the test's own. */
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { afterEnd, PERIOD, TOO_MANY, type Ends } from '../../client/src/server/restarts';

/** Whether the server is started again after each of its ends. */
const answers = (times: readonly number[]): boolean[] => {
  let ends: Ends = [];
  return times.map((now) => {
    const after = afterEnd(ends, now);
    ends = after.ends;
    return after.startsAgain;
  });
};

test('four ends at once are got over, the fifth is not', () => {
  expect(answers([0, 0, 0, 0, 0])).toEqual([true, true, true, true, false]);
});

test('the fifth counts up to three minutes after the first, and no longer', () => {
  expect(answers([0, 1, 2, 3, 179_999])).toEqual([true, true, true, true, false]);
  expect(answers([0, 1, 2, 3, 180_000])).toEqual([true, true, true, true, true]);
});

test('an end every 45 seconds is got over for ever', () => {
  expect(answers(Array.from({ length: 200 }, (_, i) => i * 45_000))).not.toContain(false);
});

test('whenever it ends, it stays down exactly where the fifth end back lies within the period', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: PERIOD }), { maxLength: 40 }), (gaps) => {
      let now = 0;
      const times = gaps.map((gap) => (now += gap));
      expect(answers(times)).toEqual(times.map((time, i) => i + 1 < TOO_MANY || time - times[i + 1 - TOO_MANY]! >= PERIOD));
    }),
  );
});
