/** The share of the fuzz programs that every test run has: three fixed seeds, so that it says the same each time. `npm run fuzz` tries others. */
import { afterAll, describe, expect, test } from 'vitest';
import { ALLOWED, openMeter } from './area';
import { AREAS } from './areas';

const SEEDS = [1, 20_260, 777_777];
/** The machine may be busy with other tests: so many times what a long run allows. */
const BUSY = 5;

describe.each(AREAS.filter(({ share }) => share > 0))('$name', ({ share, batch, end }) => {
  afterAll(() => end?.());

  test(`${share} inputs of each of three seeds`, async () => {
    const meter = openMeter(BUSY * ALLOWED);
    for (const seed of SEEDS) {
      const { failure, inputs } = await batch(seed, share, meter);
      expect(failure).toBeNull();
      expect(inputs).toBeGreaterThan(0);
    }
  }, 300_000);
});

describe('a meter', () => {
  test('counts answers, keeps the slowest, and refuses what takes too long by its clock', async () => {
    let now = 0;
    const meter = openMeter(1000, () => now);
    const taking = (milliseconds: number) => () => void (now += milliseconds);
    await meter.time('quick', 'a', taking(10));
    await meter.time('slow', 'b', taking(900));
    await expect(meter.time('late', 'c', taking(1001))).rejects.toThrow('late took 1001 ms; 1000 are allowed');
    expect([meter.answers, meter.slowest]).toEqual([3, { milliseconds: 1001, what: 'late', input: 'c' }]);
  });
});
