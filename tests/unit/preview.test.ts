/** The parts of the score's page that need no page: lanes of brackets, shapes, kept options. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lanesOf } from '../../client/preview/lanes';
import { bracketPath, rolePath, ROLES, wavePath } from '../../client/preview/shapes';
import { DEFAULT_OPTIONS } from '../../client/src/score/messages';
import { readOptions } from '../../client/src/score/options';
import { RUN } from '../property/arbitrary';

describe('lanes', () => {
  test('side by side in one lane, on top of each other in several', () => {
    expect(lanesOf([{ left: 0, right: 10 }, { left: 12, right: 20 }, { left: 5, right: 15 }], 1)).toEqual([0, 0, 1]);
    expect(lanesOf([{ left: 0, right: 10 }, { left: 10, right: 20 }], 1)).toEqual([0, 1]);
  });

  test('no two in one lane come too near, and none is higher than it must be', () => {
    const stretch = fc.tuple(fc.nat(200), fc.nat(60)).map(([left, length]) => ({ left, right: left + length }));
    fc.assert(fc.property(fc.array(stretch, { maxLength: 30 }), fc.nat(10), (stretches, gap) => {
      const lanes = lanesOf(stretches, gap);
      const near = (i: number, j: number): boolean => stretches[i]!.right + gap > stretches[j]!.left && stretches[j]!.right + gap > stretches[i]!.left;
      lanes.forEach((lane, i) => {
        for (let j = 0; j < i; j += 1) if (lanes[j] === lane) expect(near(i, j)).toBe(false);
        for (let higher = 0; higher < lane; higher += 1) expect(lanes.slice(0, i).some((other, j) => other === higher && near(i, j))).toBe(true);
      });
    }), RUN);
  });
});

test('every role has a shape of its own, within its size', () => {
  const paths = ROLES.map(({ role }) => rolePath(role, 100, 100, 20));
  expect(new Set(paths).size).toBe(5);
  for (const path of paths) expect(path).not.toMatch(/NaN|undefined/);
});

test('a wave ends where it is to end; a bracket that goes on has no hook there', () => {
  const steps = [...wavePath(0, 100, 5, 10).matchAll(/q\S+ \S+ (\S+) 0/g)].map(([, width]) => Number(width));
  expect(steps.reduce((sum, width) => sum + width, 0)).toBeCloseTo(100);
  expect(bracketPath(0, 10, 5, 2, { left: false, right: false })).toBe('M0 3V5H10V3');
  expect(bracketPath(0, 10, 5, 2, { left: true, right: true })).toBe('M0 5H10');
});

describe('kept options', () => {
  test('are read as they were kept', () => {
    const chosen = { ...DEFAULT_OPTIONS, scope: 'lesson' as const, ratio: 1.5, levels: { ...DEFAULT_OPTIONS.levels, bass: 0 }, lineMuted: true };
    expect(readOptions(JSON.parse(JSON.stringify(chosen)))).toEqual(chosen);
  });

  test.each([undefined, null, 'phrase', 7, [], { levels: { line: 'x' }, ratio: '2:1', scope: 'all', countIn: -3, step: Infinity, loop: 'yes' }, { levels: null, rise: NaN }])('of another shape are those of the start: %j', (kept) => {
    expect(readOptions(kept)).toEqual(DEFAULT_OPTIONS);
  });

  test('never hold what the sound could not bear, whatever is kept', () => {
    fc.assert(fc.property(fc.anything(), fc.anything(), (levels, rest) => {
      const { levels: read, countIn, ratio, step, rise } = readOptions(typeof rest === 'object' ? { ...rest, levels, countIn: levels, ratio: levels, step: rest } : rest);
      for (const level of Object.values(read)) expect(level >= 0 && level <= 1).toBe(true);
      for (const number of [countIn, ratio ?? 1, step, rise]) expect(Number.isFinite(number)).toBe(true);
    }), RUN);
  });
});
