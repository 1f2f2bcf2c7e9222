/** Pages of handouts: what must hold of any row of blocks, and of any phrase in any key for any part. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { shownFigure } from '../../server/src/analysis/shown-figure';
import { homeKey } from '../../server/src/analysis/keys';
import { layOut, type Item, type Pages } from '../../server/src/handout/layout';
import { linesOf } from '../../server/src/handout/lines';
import { paperOf } from '../../server/src/handout/paper';
import type { Block } from '../../server/src/handout/types';
import { versionsOf } from '../../server/src/handout/versions';
import { openSnapshot } from '../../server/src/model/snapshot';
import { wordsOf } from '../../server/src/picture/emphasis';
import { measure } from '../../server/src/picture/measure';
import { PARTS, soundingRange } from '../../server/src/theory/part';
import { midi } from '../../server/src/theory/pitch';
import { always, lessonPhraseArbitrary, RUN } from './arbitrary';

const words = fc.array(fc.stringMatching(/^[A-Za-z♭♯*-]{1,12}$/), { minLength: 1, maxLength: 60 }).map((all) => all.join(' '));
const name = fc.stringMatching(/^[A-Z][a-z ]{2,60}[a-z]$/);
const systems = fc.array(fc.integer({ min: 900, max: 4000 }), { minLength: 1, maxLength: 6 });

interface Phrase {
  readonly name: string;
  readonly systems: readonly number[];
  readonly prose: readonly string[];
  readonly claims: readonly string[];
}
const phraseArbitrary = fc.record({ name, systems, prose: fc.array(words, { maxLength: 4 }), claims: fc.array(words, { maxLength: 3 }) });

/** Each system's SVG is its name, so that it is found again. */
function blocksOf(phrases: readonly Phrase[]): Block[] {
  return [
    { kind: 'section', id: 's', title: 'Weir', note: '', name: 'Weir' },
    { kind: 'names' },
    { kind: 'contents', entries: phrases.map((one, i) => ({ id: `p${i}`, words: one.name, level: 0 })) },
    ...phrases.flatMap((one, i): Block[] => [
      { kind: 'phrase', id: `p${i}`, name: one.name, heading: 'C major', listed: one.name },
      { kind: 'systems', systems: one.systems.map((height, k) => ({ svg: `${i}.${k}`, width: 18000, height })) },
      ...one.prose.map((text): Block => ({ kind: 'prose', words: wordsOf(text) })),
      ...(one.claims.length === 0
        ? []
        : [{ kind: 'label', words: 'Claims' } as const, ...one.claims.map((claim): Block => ({ kind: 'item', words: claim }))]),
    ]),
  ];
}

function extent(item: Item): { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number } {
  switch (item.kind) {
    case 'text': {
      const { width, ascent, descent } = measure(item.words, item.isBold ? 'bold' : 'regular');
      return { left: item.x, right: item.x + item.size * width, top: item.y - item.size * ascent, bottom: item.y + item.size * descent };
    }
    case 'rule':
      return { left: item.x, right: item.x + item.width, top: item.y, bottom: item.y + item.thickness };
    default:
      return { left: item.x, right: item.x + item.width, top: item.y, bottom: item.y + item.height };
  }
}

const CLOSE = 0.01;

describe('any blocks on any paper', () => {
  const holds = (check: (pages: Pages, phrases: readonly Phrase[]) => void): void =>
    always(
      fc.property(fc.array(phraseArbitrary, { minLength: 1, maxLength: 8 }), fc.constantFrom('a4', 'letter'), (phrases, paper) =>
        check(layOut({ title: 'Weir', blocks: blocksOf(phrases), notices: [] }, paperOf(paper)), phrases),
      ),
      { ...RUN, numRuns: 60 },
    );

  test('everything is between the margins, nothing lies on anything else', () =>
    holds(({ pages, paper }) => {
      for (const { items } of pages) {
        const boxes = items.filter(({ kind }) => kind !== 'link').map(extent);
        const { width, height, margin } = paper;
        expect(
          boxes.filter(
            ({ left, right, top, bottom }) =>
              !(left >= margin - CLOSE && right <= width - margin + CLOSE && top >= margin - CLOSE && bottom <= height - margin / 2),
          ),
        ).toEqual([]);
        expect(
          boxes.filter((box, i) =>
            boxes
              .slice(0, i)
              .some(
                (other) =>
                  box.left < other.right - CLOSE &&
                  other.left < box.right - CLOSE &&
                  box.top < other.bottom - CLOSE &&
                  other.top < box.bottom - CLOSE,
              ),
          ),
        ).toEqual([]);
      }
    }));

  test('a title is on the page of its first system, and above it; every system is there once, in order', () =>
    holds(({ pages, anchors }, phrases) => {
      const placed = pages.flatMap(({ items }, page) =>
        items.flatMap((item) => (item.kind === 'picture' ? [{ page, name: item.svg, y: item.y }] : [])),
      );
      expect(placed.map((one) => one.name)).toEqual(phrases.flatMap((one, i) => one.systems.map((_, k) => `${i}.${k}`)));
      phrases.forEach((_, i) => {
        const title = anchors.find(({ id }) => id === `p${i}`)!;
        const first = placed.find((one) => one.name === `${i}.0`)!;
        expect(title.page).toBe(first.page);
        expect(title.y).toBeLessThan(first.y);
      });
    }));

  test('a phrase that starts a page has nothing above it on that page', () =>
    always(
      fc.property(fc.array(phraseArbitrary, { minLength: 2, maxLength: 6 }), (phrases) => {
        const blocks = blocksOf(phrases).map(
          (block): Block => (block.kind === 'phrase' && block.id === 'p1' ? { ...block, startsPage: true } : block),
        );
        const { pages, anchors } = layOut({ title: 'Weir', blocks, notices: [] }, paperOf('a4'));
        const title = anchors.find(({ id }) => id === 'p1')!;
        expect(title.page).toBeGreaterThan(anchors.find(({ id }) => id === 'p0')!.page);
        expect(pages[title.page]!.items.filter((item) => item.kind !== 'link' && extent(item).bottom <= title.y)).toEqual([]);
      }),
      { ...RUN, numRuns: 40 },
    ));

  test('all prose is there; no page is empty; contents and pages are numbered', () =>
    holds(({ pages, anchors }, phrases) => {
      const texts = pages.map(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.words] : [])));
      const letters = (text: string): string => text.replace(/\s/g, '');
      const all = letters(texts.map((page) => page.slice(0, -2).join('')).join(''));
      for (const said of phrases.flatMap(({ prose }) => prose))
        expect(all).toContain(
          letters(
            wordsOf(said)
              .map(({ text }) => text)
              .join(''),
          ),
        );
      texts.forEach((page, i) => expect(page.at(-1)).toBe(`${i + 1} / ${pages.length}`));
      for (const { items } of pages) expect(items.length).toBeGreaterThan(2);
      const links = pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'link' ? [item.to] : [])));
      expect(links).toEqual(phrases.map((_, i) => `p${i}`));
      expect(links.every((to) => anchors.some(({ id }) => id === to))).toBe(true);
    }));

  test('the last line of what is said of a phrase is not alone at the top of a page', () =>
    holds(({ pages, paper }) => {
      for (const { items } of pages) {
        const lines = [...new Set(items.slice(0, -2).flatMap((item) => (item.kind === 'text' ? [item.y] : [])))].sort((a, b) => a - b);
        const [first, second = Infinity] = lines;
        const top = items.find((item) => item.kind === 'text' && item.y === first);
        if (first === undefined || first > paper.margin + 15 || top?.kind !== 'text' || top.isBold) continue;
        // Lines of a text are nearer to one another than to the title of the next phrase.
        expect(second - first, top.words).toBeLessThan(25);
      }
    }));
});

test('systems that are whole, and those that follow them at once, are on one page with their title, where a page holds them', () => {
  const exercise = fc.record({
    asked: fc.array(fc.integer({ min: 900, max: 4000 }), { minLength: 1, maxLength: 3 }),
    blank: fc.array(fc.integer({ min: 900, max: 4000 }), { maxLength: 3 }),
  });
  always(
    fc.property(fc.array(exercise, { minLength: 1, maxLength: 9 }), (exercises) => {
      const whole = (id: string, heights: readonly number[]): Block => ({
        kind: 'systems',
        systems: heights.map((height, k) => ({ svg: `${id}.${k}`, width: 18000, height })),
        isWhole: true,
      });
      const blocks = exercises.flatMap(({ asked, blank }, i): Block[] => [
        { kind: 'phrase', id: `p${i}`, name: 'Weir', heading: 'Write it', listed: null },
        whole(`${i}`, asked),
        ...(blank.length === 0 ? [] : [whole(`${i}`, blank)]),
      ]);
      const paper = paperOf('a4');
      const { pages, anchors } = layOut(
        { title: 'Weir', blocks: [{ kind: 'section', id: 's', title: 'Weir', note: '', name: 'Weir' }, ...blocks], notices: [] },
        paper,
      );
      exercises.forEach(({ asked, blank }, i) => {
        // With the titles and what is between; a page has 200 points more than this.
        const height = [...asked, ...blank].reduce((sum, one) => sum + (one * paper.textWidth) / 18000 + 7, 0);
        if (height > paper.height - 2 * paper.margin - 200) return;
        const on = pages.flatMap(({ items }, page) =>
          items.some((item) => item.kind === 'picture' && item.svg.startsWith(`${i}.`)) ? [page] : [],
        );
        expect(on).toEqual([anchors.find(({ id }) => id === `p${i}`)!.page]);
      });
    }),
    { ...RUN, numRuns: 60 },
  );
});

test('lines are as wide as they may be, and hold all words', () => {
  always(
    fc.property(words, fc.integer({ min: 60, max: 500 }), (text, width) => {
      const lines = linesOf(wordsOf(text), 10, width);
      expect(
        lines.flat().filter((run) => !(run.x + 10 * measure(run.text, run.isStrong ? 'bold' : 'regular').width <= width + CLOSE)),
      ).toEqual([]);
      const plain = wordsOf(text)
        .map((one) => one.text)
        .join('');
      expect(
        lines
          .flat()
          .map((run) => run.text)
          .join('')
          .replace(/\s/g, ''),
      ).toBe(plain.replace(/\s/g, ''));
    }),
    RUN,
  );
  const [first, second] = linesOf(wordsOf('a **b**c d'), 10, 24);
  expect([first!.map(({ text, isStrong }) => [text, isStrong]), second]).toEqual([
    [
      ['a ', false],
      ['b', true],
      ['c', false],
    ],
    [expect.objectContaining({ text: 'd', x: 0 })],
  ]);
});

describe('any phrase', () => {
  const tonics = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'];
  const figuresOf = (reading: ReturnType<typeof readPhrase>): (string | null)[] =>
    reading.notes.map(({ placement }) => (placement === null ? null : shownFigure(reading, placement)));

  test('in another key is the same music, each note as far away; what it is over its chord stays', () => {
    always(
      fc.property(lessonPhraseArbitrary, fc.constantFrom(...tonics), ({ text }, tonic) => {
        const snapshot = openSnapshot('', 1, text);
        const [placed] = snapshot.phrases;
        const before = readPhrase(placed!.phrase, DEFAULT_THEORY);
        const { versions, notices } = versionsOf({ snapshot, placed: placed! }, null, [tonic], DEFAULT_THEORY);
        expect(versions).toHaveLength(1);
        const [{ reading }] = versions as [(typeof versions)[0]];
        if (homeKey(before) === null || notices.length > 0) return;
        const shifts = new Set(reading.phrase.notes.map((note, i) => note.midi - before.phrase.notes[i]!.midi));
        expect(reading.phrase.notes).toHaveLength(before.phrase.notes.length);
        expect(shifts.size).toBeLessThanOrEqual(1);
        expect(figuresOf(reading)).toEqual(figuresOf(before));
      }),
      { ...RUN, numRuns: 40 },
    );
  });

  test('for another part moves by whole octaves, to where no octave would be better; what is said is about what it reads', () => {
    always(
      fc.property(lessonPhraseArbitrary, fc.constantFrom(...PARTS), ({ text }, part) => {
        const snapshot = openSnapshot('', 1, text);
        const [placed] = snapshot.phrases;
        const before = placed!.phrase;
        const [{ reading, asRead }] = versionsOf({ snapshot, placed: placed! }, part.name, 'written', DEFAULT_THEORY).versions as [
          ReturnType<typeof versionsOf>['versions'][0],
        ];
        const { notes } = reading.phrase;
        expect(reading.phrase.part.name).toBe(part.name);
        expect(notes).toHaveLength(before.notes.length);
        if (notes.length === 0) return;
        const by = notes[0]!.midi - before.notes[0]!.midi;
        expect(Math.abs(by % 12)).toBe(0);
        for (const [i, note] of notes.entries()) expect(note.midi - before.notes[i]!.midi).toBe(by);
        const { low, high } = soundingRange(part);
        const outside = (octaves: number): number =>
          notes.filter((note) => note.midi + 12 * octaves < midi(low) || note.midi + 12 * octaves > midi(high)).length;
        // A cell at the start has no octave of its own.
        if (before.notes[0]!.cell === null) for (const octaves of [-2, -1, 1, 2]) expect(outside(0)).toBeLessThanOrEqual(outside(octaves));
        const up = part.transpose.chromatic + 12 * part.transpose.octaves;
        if (asRead !== reading) for (const [i, note] of asRead.phrase.notes.entries()) expect(note.midi).toBe(notes[i]!.midi - up);
      }),
      { ...RUN, numRuns: 60 },
    );
  });
});
