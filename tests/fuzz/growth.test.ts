/** Inputs of the worst kind cost in proportion to their size, whatever is asked of them. Work is counted, so that no busy machine troubles it; `npm run fuzz -- --only curves` times the same texts. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Snapshot } from '../../server/src/model/snapshot';
import { openCounter, type Counter } from './work';

/** Parts of a text: each time twice as many. */
const SIZES = [250, 500, 1000] as const;
/** So many times the work of the first doubling the second may add: 2 where it grows with the text, 4 where it grows with its square. */
const MOST = 2.6;
/** Calls and blocks: what adds less is no matter, and what the test runner does meanwhile is far less. */
const LITTLE = 20_000;

/** Loaded once work is counted, or their blocks would not be. */
async function load() {
  const [
    { formatText },
    { DEFAULT_THEORY, readPhrase },
    { openSnapshot },
    { findingsOf },
    { writeMusicXml },
    { takeOf },
    { DEFAULT_TAKE },
    { inlayHints },
    { DEFAULT_SETTINGS },
    { documentSymbols },
    { folds },
    { scoreAt },
    { walkthrough },
    { codeLenses },
    { WORST },
  ] = await Promise.all([
    import('../../grammar/printer'),
    import('../../server/src/analysis/read'),
    import('../../server/src/model/snapshot'),
    import('../../server/src/rules/findings'),
    import('../../server/src/exports/musicxml'),
    import('../../server/src/performance/take'),
    import('../../server/src/performance/types'),
    import('../../server/src/features/inlay-hints'),
    import('../../server/src/features/options'),
    import('../../server/src/features/symbols'),
    import('../../server/src/features/folding'),
    import('../../server/src/features/score/index'),
    import('../../server/src/explain/walkthrough'),
    import('../../server/src/features/code-lenses'),
    import('./curves'),
  ]);
  let versions = 0;
  const open = (text: string): Snapshot => openSnapshot('file:///growth.phrase', (versions += 1), `${text}// ${versions}\n`);
  const readings = (snapshot: Snapshot) => snapshot.phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
  /** What is asked of a text that has been read. */
  const asked: Readonly<Record<string, (snapshot: Snapshot) => unknown>> = {
    MusicXML: (snapshot) => writeMusicXml(readings(snapshot), 'Growth', { pitch: 'written', degrees: true, words: 'sheet' }),
    sound: (snapshot) => readings(snapshot).map((reading) => takeOf(reading, DEFAULT_TAKE)),
    degrees: (snapshot) => inlayHints(snapshot, 0, snapshot.text.length, { ...DEFAULT_SETTINGS, degreeHints: 'all' }),
    outline: documentSymbols,
    folding: folds,
    'walk-through': (snapshot) => readings(snapshot).map((reading) => walkthrough(reading)),
    lenses: (snapshot) => codeLenses(snapshot, DEFAULT_SETTINGS),
    score: (snapshot) => scoreAt(snapshot, snapshot.phrases[0]?.start ?? 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }),
  };
  const findings = (snapshot: Snapshot): unknown => findingsOf(snapshot, DEFAULT_THEORY);
  return { asked, findings, formatText, open, WORST };
}

let counter: Counter;
let loaded: Awaited<ReturnType<typeof load>>;
beforeAll(async () => {
  counter = await openCounter();
  loaded = await load();
}, 120_000);
afterAll(() => counter.end());

/** The names of the texts, which are loaded later. */
const NAMES = [
  'one endless bar',
  'one endless group',
  'many bars',
  'many chords in a bar',
  'many cells',
  'names of one another',
  'cells of one another',
  'names that nothing defines',
  'weights of 64',
  'chord upon chord',
  'claims',
  'prose',
  'brackets, marks and signs',
  'quotes',
  'comments',
  'rows of one phrase',
  'short phrases',
  'definitions that rows follow',
];

describe('the worst texts', () => {
  test('are those of the curves', () => {
    expect(NAMES).toEqual(Object.keys(loaded.WORST));
  });

  test.each(NAMES)(
    '%s',
    async (name) => {
      const { asked, findings, formatText, open, WORST } = loaded;
      const counts: Record<string, number[]> = {};
      const worksOn = (text: string): Readonly<Record<string, () => void>> => {
        let snapshot: Snapshot | undefined;
        return {
          'reading and findings': () => {
            snapshot = open(text);
            findings(snapshot);
          },
          formatting: () => void formatText(text),
          ...Object.fromEntries(Object.entries(asked).map(([what, ask]) => [what, () => void ask(snapshot!)])),
        };
      };
      // The counts of the first are thrown away: tables that are made once are made.
      for (const [round, size] of [SIZES[0], ...SIZES].entries()) {
        const works = worksOn(WORST[name]!(size));
        const done = await counter.countEach(Object.values(works));
        if (round > 0) Object.keys(works).forEach((what, i) => (counts[what] ??= []).push(done[i]!));
      }
      for (const [what, [small, middle, large]] of Object.entries(counts) as [string, [number, number, number]][]) {
        const [first, second] = [middle - small, large - middle];
        if (second > LITTLE) expect(second / Math.max(first, 1), `${what}: ${small}, ${middle}, ${large}`).toBeLessThan(MOST);
      }
    },
    120_000,
  );
});

test('a counter tells a line from a square', async () => {
  const pairs = (size: number) => (): void => {
    let sum = 0;
    for (let i = 0; i < size; i += 1) for (let k = 0; k < size; k += 1) sum += i ^ k;
    expect(sum).toBeGreaterThan(0);
  };
  const [small, large] = [await counter.count(pairs(200)), await counter.count(pairs(400))];
  expect(large / small).toBeGreaterThan(3.5);
  const again = await counter.count(pairs(200));
  expect(Math.abs(again - small) / small).toBeLessThan(0.1);
});
