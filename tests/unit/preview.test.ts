/** The parts of the score's page that need no page: lanes of brackets, rows of symbols and figures, breaks, outlines, shapes, kept options. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { slices, topBetween } from '../../server/src/picture/boxes';
import { tipPlace } from '../../client/preview/tip';
import { barsOf, inRoom } from '../../server/src/picture/bars';
import { evenBreaks, overfull, withBreaks } from '../../server/src/picture/breaks';
import { wordsOf } from '../../server/src/picture/emphasis';
import { figureParts, figureRow, type PlacedFigure } from '../../server/src/picture/figures';
import { countOf, lanesOf, type Stretch } from '../../server/src/picture/lanes';
import { pointsOf, strokesOf } from '../../server/src/picture/outline';
import { bracketPath, findingPath, rolePath, ROLES } from '../../server/src/picture/shapes';
import { SMALLEST, symbolRow, type SymbolRow } from '../../server/src/picture/symbols';
import { DEFAULT_OPTIONS } from '../../client/src/score/messages';
import { readOptions } from '../../client/src/score/options';
import { always, RUN } from '../property/arbitrary';

const stretchOf = (left: number, right: number, length = right - left): Stretch => ({ left, right, length });

describe('lanes', () => {
  test('side by side in one lane, on top of each other in several, the longest highest', () => {
    expect(lanesOf([stretchOf(0, 10), stretchOf(12, 20), stretchOf(5, 16)], 1)).toEqual([1, 1, 0]);
    expect(lanesOf([stretchOf(0, 10), stretchOf(10, 20)], 1)).toEqual([0, 1]);
    // A long name makes no long bracket.
    expect(lanesOf([stretchOf(0, 30, 5), stretchOf(0, 20)], 1)).toEqual([1, 0]);
  });

  test('no two in one lane come too near, and there are as few lanes as there can be', () => {
    const stretch = fc
      .tuple(fc.nat(200), fc.nat(60), fc.nat(30))
      .map(([left, length, name]) => stretchOf(left, left + length + name, length));
    always(
      fc.property(fc.array(stretch, { maxLength: 30 }), fc.integer({ min: 1, max: 10 }), (stretches, gap) => {
        const lanes = lanesOf(stretches, gap);
        const near = (i: number, j: number): boolean =>
          stretches[i]!.right + gap > stretches[j]!.left && stretches[j]!.right + gap > stretches[i]!.left;
        lanes.forEach((lane, i) => {
          for (let j = 0; j < i; j += 1) if (lanes[j] === lane) expect(near(i, j)).toBe(false);
        });
        // As many lie over one place as there are lanes.
        expect(countOf(lanes)).toBe(
          Math.max(0, ...stretches.map(({ left }) => stretches.filter((one) => one.left <= left && one.right + gap > left).length)),
        );
        // The longest bracket is in the highest lane.
        if (stretches.length > 0)
          expect(lanes.some((lane, i) => lane === 0 && stretches[i]!.length === Math.max(...stretches.map(({ length }) => length)))).toBe(
            true,
          );
      }),
      RUN,
    );
  });
});

describe('chord symbols', () => {
  const SIZE = 400;
  const room = { size: SIZE, baseline: 0, left: 0, right: 10_000 };
  const symbol = fc.record({
    x: fc.nat(9_500),
    width: fc.integer({ min: 5, max: 60 }).map((tenths) => tenths / 10),
    ascent: fc.constant(0.75),
    descent: fc.constantFrom(0, 0.22),
  });
  const symbols = fc.array(symbol, { maxLength: 12 }).map((all) => all.sort((a, b) => a.x - b.x));
  const ink = fc.array(
    fc
      .tuple(fc.nat(10_000), fc.integer({ min: -2_000, max: 2_000 }), fc.nat(400), fc.nat(900))
      .map(([left, top, width, height]) => ({ left, top, right: left + width, bottom: top + height })),
    { maxLength: 40 },
  );

  test('never over each other, nor over the notation, nor out of the picture', () => {
    always(
      fc.property(symbols, ink, (all, boxes) => {
        const { size, places } = symbolRow(all, boxes, room);
        const own = places.map(({ x, y }, i) => ({
          left: x,
          top: y - size * all[i]!.ascent,
          right: x + size * all[i]!.width,
          bottom: y + size * all[i]!.descent,
        }));
        own.forEach((box, i) => {
          for (const other of [...own.slice(0, i), ...boxes])
            expect(box.left < other.right && other.left < box.right && box.top < other.bottom && other.top < box.bottom).toBe(false);
          expect(box.left).toBeGreaterThanOrEqual(0);
          expect(box.right).toBeLessThanOrEqual(room.right + 1e-6);
          // Each begins at its place, but where the end of the system keeps it from that.
          if (all[i]!.x + size * all[i]!.width < room.right) expect(box.left).toBe(all[i]!.x);
        });
        expect(size).toBeLessThanOrEqual(SIZE);
        expect(size).toBeGreaterThanOrEqual(SIZE * SMALLEST - 1e-6);
        for (const { y } of places) expect(y).toBeLessThanOrEqual(room.baseline);
      }),
      RUN,
    );
  });

  test('full size on one line where there is room; smaller where it is tight; lifted where it is tighter', () => {
    const row = (...xs: readonly number[]): SymbolRow =>
      symbolRow(
        xs.map((x) => ({ x, width: 3, ascent: 0.75, descent: 0 })),
        [],
        room,
      );
    expect(row(0, 1_500)).toEqual({
      size: SIZE,
      places: [
        { x: 0, y: 0 },
        { x: 1_500, y: 0 },
      ],
    });
    expect(row(0, 1_100)).toMatchObject({ places: [{ y: 0 }, { y: 0 }] });
    expect(row(0, 1_100).size).toBeLessThan(SIZE);
    const [first, second, third] = row(0, 600, 1_300).places;
    expect([first!.y, third!.y]).toEqual([0, 0]);
    expect(second!.y).toBeLessThan(-250);
  });

  test('a high note lifts the row; one that is far from any symbol does not', () => {
    const row = (left: number): number =>
      symbolRow([{ x: 0, width: 3, ascent: 0.75, descent: 0 }], [{ left, top: -500, right: left + 200, bottom: 0 }], room).places[0]!.y;
    expect(row(900)).toBeLessThan(-500);
    expect(row(5_000)).toBe(0);
  });
});

describe('figures', () => {
  test('in their parts', () => {
    expect([figureParts('♭13'), figureParts('(♭7)'), figureParts('3')]).toEqual([
      { before: '♭', digits: '13', after: '' },
      { before: '(♭', digits: '7', after: ')' },
      { before: '', digits: '3', after: '' },
    ]);
  });

  test('digits stand under their heads, all of one size: as large as the most crowded two have room for', () => {
    const figure = (x: number): PlacedFigure => ({ x, before: 0.4, digits: 1, after: 0 });
    expect(figureRow([figure(0), figure(1_000)], 300, 50)).toEqual({ size: 300, lefts: [-270, 730] });
    const { size, lefts } = figureRow([figure(0), figure(400), figure(1_500)], 300, 50);
    expect(size).toBeCloseTo(250);
    expect(lefts.map((left) => Math.round(left))).toEqual([-225, 175, 1_275]);
  });

  test('no two touch, as far apart as heads are', () => {
    const figures = fc.array(
      fc.record({
        step: fc.integer({ min: 260, max: 900 }),
        before: fc.constantFrom(0, 0.4, 0.7),
        digits: fc.constantFrom(0.55, 1.1),
        after: fc.constantFrom(0, 0.3),
      }),
      { maxLength: 20 },
    );
    always(
      fc.property(figures, (all) => {
        let x = 0;
        const placed = all.map((one) => ({ ...one, x: (x += one.step) }));
        const { size, lefts } = figureRow(placed, 330, 40);
        lefts.forEach((left, i) => {
          const { before, digits, x: middle } = placed[i]!;
          expect(left + size * (before + digits / 2)).toBeCloseTo(middle);
          if (i > 0)
            expect(lefts[i - 1]! + size * (placed[i - 1]!.before + placed[i - 1]!.digits + placed[i - 1]!.after)).toBeLessThan(left);
        });
        expect(size).toBeLessThanOrEqual(330);
      }),
      RUN,
    );
  });
});

describe('breaks', () => {
  const systems = (bars: readonly number[]): number[] => {
    const ends = [...evenBreaks({ bars, crowded: bars.map(() => 0) }), bars.length];
    return ends.map((end, i) => end - (ends[i - 1] ?? 0));
  };

  test('bars spread evenly', () => {
    expect(systems([0.3, 0.3, 0.3])).toEqual([3]);
    expect(systems([0.45, 0.4, 0.4, 0.4])).toEqual([2, 2]);
    expect(systems([0.3, 0.3, 0.3, 0.3])).toEqual([2, 2]);
    expect(systems(Array.from({ length: 8 }, () => 0.28))).toEqual([3, 3, 2]);
    expect(systems(Array.from({ length: 8 }, () => 0.24))).toEqual([4, 4]);
    // A little too much for one line is two even ones.
    expect(systems([0.26, 0.26, 0.26, 0.26])).toEqual([2, 2]);
    expect(systems([])).toEqual([0]);
    expect(systems([1.7, 1.8, 0.1])).toEqual([1, 1, 1]);
  });

  test('every bar is in a system, none is fuller than it may be, and there are no more systems than must be', () => {
    always(
      fc.property(
        fc.array(
          fc.integer({ min: 5, max: 130 }).map((width) => width / 100),
          { minLength: 1, maxLength: 24 },
        ),
        (bars) => {
          const counts = systems(bars);
          expect(counts.reduce((sum, count) => sum + count, 0)).toBe(bars.length);
          let at = 0;
          for (const count of counts) {
            const fill = bars.slice(at, at + count).reduce((sum, width) => sum + width, 0);
            expect(count).toBeGreaterThan(0);
            if (count > 1) expect(fill).toBeLessThan(1.0801);
            at += count;
          }
          expect(counts.length).toBeLessThanOrEqual(Math.max(2, Math.ceil(2 * bars.reduce((sum, width) => sum + width, 0))));
        },
      ),
      RUN,
    );
  });

  test('are written into the document, and bars are read from a picture', () => {
    expect(withBreaks('<part><measure number="1"><note/></measure><measure number="2" implicit="yes"><note/></measure></part>', [1])).toBe(
      '<part><measure number="1"><note/></measure><measure number="2" implicit="yes"><print new-system="yes"/><note/></measure></part>',
    );
    const bar = (left: number, right: number, more = ''): string =>
      `<g id="a" class="measure"><g class="staff"><path d="M${left} 635 L${right} 635" stroke-width="13" />${more}</g></g>`;
    const line = `<svg>${bar(0, 400, '<g class="meterSig"><use transform="translate(120, 815)" /></g>')}${bar(400, 700)}</svg>`;
    expect(barsOf(line, [])).toEqual({ widths: [280, 300], head: 120, crowded: [0, 0] });
    expect(inRoom(barsOf(line, []), 1120)).toEqual({ bars: [0.28, 0.3], crowded: [0, 0] });
  });

  test('a crowded bar has more room: fewer bars stand beside it, and where it is alone the picture is wider', () => {
    const bars = [0.3, 0.3, 0.3, 0.3];
    expect(evenBreaks({ bars, crowded: [0, 0, 0, 1.5] })).toEqual([2]);
    expect(evenBreaks({ bars: [0.4, 0.4], crowded: [0, 1.6] })).toEqual([1]);
    expect(overfull({ bars, crowded: [0, 0, 0, 1.5] })).toBe(1);
    expect(overfull({ bars: [0.5, 0.8], crowded: [0, 2] })).toBeCloseTo(1.6);
  });
});

describe('outlines', () => {
  test('lines and curves, absolute and relative', () => {
    expect(strokesOf('M0 911 L4158 911')).toEqual([
      [
        [0, 911],
        [4158, 911],
      ],
    ]);
    expect(strokesOf('m10,10h5v-5l-5 0z')).toEqual([
      [
        [10, 10],
        [15, 10],
        [15, 5],
        [10, 5],
        [10, 10],
      ],
    ]);
    const [curve] = strokesOf('M0 0c0 40 100 40 100 0s100-40 100 0');
    expect(Math.max(...curve!.map(([, y]) => y))).toBeCloseTo(30);
    expect(Math.min(...curve!.map(([, y]) => y))).toBeCloseTo(-30);
    expect(curve![curve!.length - 1]).toEqual([200, 0]);
    expect(pointsOf('4347,1874 4347,1991 ')).toEqual([
      [4347, 1874],
      [4347, 1991],
    ]);
  });

  test.each(['Z', 'z', 'L1 1', 'H5', 'ZM0 0L5 5'])('%s begins with no move, and has no ink', (d) => {
    expect(strokesOf(d)).toEqual([]);
  });

  test('reading ends, whatever is read', () => {
    always(
      fc.property(fc.oneof(fc.string(), fc.stringMatching(/^[MmLlHhCcSsQqTtAaZz0-9 .,e-]*$/)), (d) => {
        for (const point of strokesOf(d).flat()) expect(point).toHaveLength(2);
      }),
      RUN,
    );
  });

  test('a slanted edge is told by narrow boxes, a level one by one', () => {
    expect(
      slices([
        [0, 100],
        [1000, 100],
      ]),
    ).toHaveLength(1);
    const boxes = slices([
      [0, 0],
      [600, 300],
    ]);
    expect(topBetween(boxes, 450, 700, Infinity)).toBeGreaterThanOrEqual(150);
    expect(topBetween(boxes, 0, 10, Infinity)).toBe(0);
    expect(topBetween(boxes, 700, 800, 42)).toBe(42);
  });
});

test('every role has a shape of its own, within its size', () => {
  const paths = ROLES.map(({ role }) => rolePath(role, 100, 100, 20));
  expect(new Set(paths).size).toBe(5);
  for (const path of paths) expect(path).not.toMatch(/NaN|undefined/);
});

test('each severity has a line of its own, which ends where it is to end', () => {
  const paths = (['error', 'warning', 'information'] as const).map((severity) => findingPath(severity, 0, 100, 5, 10));
  expect(new Set(paths).size).toBe(3);
  for (const path of paths) {
    const [last] = strokesOf(path).flat().slice(-1);
    expect(last![0]).toBeCloseTo(100);
    expect(last![1]).toBeCloseTo(5);
  }
});

test('a bracket is closed where it has a hook', () => {
  const [closed, open] = [2, 0];
  expect(bracketPath({ x: 0, hook: closed }, { x: 10, hook: closed }, 5)).toBe('M0 3V5H10V3');
  expect(bracketPath({ x: 0, hook: open }, { x: 10, hook: closed }, 5)).toBe('M0 5H10V3');
  expect(bracketPath({ x: 0, hook: closed }, { x: 10, hook: open }, 5)).toBe('M0 3V5H10');
});

describe('prose', () => {
  const look = (prose: string): string =>
    wordsOf(prose)
      .map(({ text, isStrong, isEmphasized }) => `${isStrong ? 'S' : ''}${isEmphasized ? 'E' : ''}<${text}>`)
      .join('');

  // Expected by CommonMark 0.31, sections 2.4, 6.1, 6.2 and 6.3.
  test.each([
    ['Sing the *third* first.', '<Sing the >E<third>< first.>'],
    ['**Slowly**, then _faster_', 'S<Slowly><, then >E<faster>'],
    ['**Sing the *third* first**', 'S<Sing the >SE<third>S< first>'],
    ['3 * 4 and 5*', '<3 * 4 and 5*>'],
    ['a_name_here', '<a_name_here>'],
    ['\\*as it is\\*', '<*as it is*>'],
    ['the `b9` and [the rest](https://example.org)', '<the b9 and the rest>'],
    ['**open', '<**open>'],
    ['***both***', 'SE<both>'],
    ['', ''],
  ])('%s', (prose, expected) => expect(look(prose)).toBe(expected));

  test('no word is lost', () => {
    always(
      fc.property(fc.stringMatching(/^[a-z *_`]*$/), (prose) => {
        expect(
          wordsOf(prose)
            .map(({ text }) => text)
            .join('')
            .replace(/[^a-z]/g, ''),
        ).toBe(prose.replace(/[^a-z]/g, ''));
      }),
      RUN,
    );
  });
});

test('a tip never lies on what comes next where there is room above or before it', () => {
  const side = fc.integer({ min: 0, max: 900 });
  always(
    fc.property(
      fc.record({
        left: side,
        top: side,
        width: fc.integer({ min: 10, max: 60 }),
        height: fc.integer({ min: 60, max: 250 }),
        tipWidth: fc.integer({ min: 60, max: 400 }),
        tipHeight: fc.integer({ min: 20, max: 160 }),
      }),
      (at) => {
        const note = { left: at.left, top: at.top, right: at.left + at.width, bottom: at.top + at.height };
        const tip = { width: at.tipWidth, height: at.tipHeight };
        fc.pre(note.top >= tip.height + 4 || (note.left >= tip.width + 4 && note.bottom >= tip.height));
        const { left, top } = tipPlace(note, tip, { width: 1000, height: 1200 });
        const coversRest = left + tip.width > note.left && top < note.bottom && top + tip.height > note.top;
        expect(coversRest || top + tip.height > note.bottom).toBe(false);
        expect(left >= 0 && top >= 0 && left + tip.width <= 1000 && top + tip.height <= 1200).toBe(true);
      },
    ),
    RUN,
  );
});

describe('kept options', () => {
  test('are read as they were kept', () => {
    const chosen = {
      ...DEFAULT_OPTIONS,
      scope: 'lesson' as const,
      size: 2,
      ratio: 1.5,
      levels: { ...DEFAULT_OPTIONS.levels, bass: 0 },
      lineMuted: true,
      piano: ['line' as const],
    };
    expect(readOptions(JSON.parse(JSON.stringify(chosen)))).toEqual(chosen);
  });

  test.each([
    undefined,
    null,
    'phrase',
    7,
    [],
    { levels: { line: 'x' }, ratio: '2:1', scope: 'all', countIn: -3, step: Infinity, loop: 'yes', piano: 'all' },
    { levels: null, rise: NaN },
  ])('of another shape are those of the start: %j', (kept) => {
    expect(readOptions(kept)).toEqual(DEFAULT_OPTIONS);
  });

  test('never hold what the sound could not bear, whatever is kept', () => {
    always(
      fc.property(fc.anything(), fc.anything(), (levels, rest) => {
        const {
          levels: read,
          countIn,
          ratio,
          step,
          rise,
          size,
        } = readOptions(typeof rest === 'object' ? { ...rest, levels, countIn: levels, ratio: levels, step: rest, size: levels } : rest);
        for (const level of Object.values(read)) expect(level >= 0 && level <= 1).toBe(true);
        for (const number of [countIn, ratio ?? 1, step, rise, size]) expect(Number.isFinite(number)).toBe(true);
      }),
      RUN,
    );
  });
});
