/** What the page of the score decides without a page: whom the controls speak of, what is sent again, what is drawn first. */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { calmly, PAUSE } from '../../client/preview/calmly';
import { typedTempo } from '../../client/preview/numbers';
import {
  anchorOf,
  distanceFrom,
  engravingOrder,
  estimatedHeight,
  placesFor,
  scrollFor,
  timesLegible,
  waitAfter,
  type Extent,
} from '../../client/preview/sight';
import { isPartial, knownOf, wholeScore } from '../../client/src/score/known';
import { nameOf, renamed, renamedTempos, soundingWords, withTempo, type Subject } from '../../client/preview/subject';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt, sentScoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, RUN } from '../property/arbitrary';

const TEXT =
  'phrase "Weir"\n  over | G7 | C |\n  line G4 | B4 . . . | C5 ~ . . |\nphrase "Lock"\n  line | D4 . . . |\nphrase\n  line | E4 . . . |\n';
const PHRASES = scoreAt(openSnapshot('', 1, TEXT), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases;

describe('what sounds', () => {
  test.each([
    [0, null, '“Weir”'],
    [0, 0, '“Weir”, pickup'],
    [0, 1, '“Weir”, bar 1'],
    [0, 2, '“Weir”, bar 2'],
    [1, 7, '“Lock”'],
    [2, 0, 'A phrase without a name, bar 1'],
  ])('phrase %i, note %j: %s', (phrase, note, words) => {
    expect(soundingWords(PHRASES[phrase]!, note)).toBe(words);
  });

  test('has a tempo of its own, which looking at another phrase leaves alone', () => {
    const [weir, lock]: Subject[] = [
      { uri: 'a', phrase: PHRASES[0]! },
      { uri: 'a', phrase: PHRASES[1]! },
    ];
    const both = withTempo(withTempo(new Map(), weir!, 90), lock!, 200);
    expect([both.get(nameOf(weir!)), both.get(nameOf(lock!))]).toEqual([90, 200]);
    expect([...withTempo(both, lock!, null)]).toEqual([[nameOf(weir!), 90]]);
    expect(both.get(nameOf({ ...weir!, uri: 'b' }))).toBeUndefined();
  });

  test('keeps its document and its tempo where files or folders are renamed, and no other takes them', () => {
    const files = [
      { from: 'file:///lessons/a.phrase', to: 'file:///old/a%20b.phrase' },
      { from: 'file:///week', to: 'file:///month' },
    ];
    expect(
      ['file:///lessons/a.phrase', 'file:///week/one/a.phrase', 'file:///weekend/a.phrase', 'file:///lessons/a.phrase.phrase'].map((uri) =>
        renamed(uri, files),
      ),
    ).toEqual(['file:///old/a%20b.phrase', 'file:///month/one/a.phrase', 'file:///weekend/a.phrase', 'file:///lessons/a.phrase.phrase']);
    const lock = { uri: 'file:///week/a.phrase', phrase: { ...PHRASES[1]!, name: 'Lock and weir' } };
    const tempos = renamedTempos(withTempo(new Map(), lock, 90), files);
    expect([tempos.get(nameOf({ ...lock, uri: 'file:///month/a.phrase' })), tempos.get(nameOf(lock))]).toEqual([90, undefined]);
  });
});

test.each([
  ['132', 132, ''],
  [' 96 ', 96, ''],
  ['', null, ''],
  ['fast', null, ''],
  ['9999', 400, 'A tempo is 20 to 400 beats a minute: 400 is taken.'],
  ['1', 20, 'A tempo is 20 to 400 beats a minute: 20 is taken.'],
])('a tempo typed as “%s” is %j', (text, tempo, told) => {
  expect(typedTempo(text)).toEqual({ tempo, told });
});

test('letters are made larger where they are shown smaller than 8 pixels, at most twice as large', () => {
  // 270 units of 8000 are 10.8 pixels of 320, 6 of 178, 4 of 119 and 3 of 90.
  expect([320, 237, 178, 119, 90, 0].map((shown) => Math.round(timesLegible(270, 8000, shown) * 100) / 100)).toEqual([
    1, 1, 1.33, 1.99, 2, 2,
  ]);
  expect(timesLegible(270, 0, 100)).toBe(1);
});

describe('what keeps a picture from being up to date', () => {
  const told: string[] = [];
  let tell: ReturnType<typeof calmly>;
  beforeEach(() => {
    vi.useFakeTimers();
    told.length = 0;
    tell = calmly((words) => void told.push(words));
  });
  afterEach(() => void vi.useRealTimers());

  test('is told in a pause of the typing', () => {
    for (let key = 0; key < 20; key += 1) {
      tell('Bar 1 is not full.', false);
      vi.advanceTimersByTime(PAUSE - 1);
    }
    expect(told).toEqual([]);
    vi.advanceTimersByTime(1);
    expect(told).toEqual(['Bar 1 is not full.']);
  });

  test('is taken back at once, and other words come at once in its place', () => {
    tell('Bar 1 is not full.', false);
    vi.advanceTimersByTime(PAUSE);
    tell('Bar 2 is not full.', false);
    tell('', false);
    vi.advanceTimersByTime(PAUSE);
    expect(told).toEqual(['Bar 1 is not full.', 'Bar 2 is not full.', '']);
  });

  test('waits for nothing where it is what sounds', () => {
    tell('“Weir” sounds.', true);
    expect(told).toEqual(['“Weir” sounds.']);
  });
});

describe('a score that is sent in parts', () => {
  const lesson = (count: number, change = ''): string =>
    Array.from(
      { length: count },
      (_, i) => `phrase "P${i}"\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C5 B-G F-D | E ~ . . |${i === 3 ? change : ''}\n`,
    ).join('');
  const ask = (
    text: string,
    version: number,
    before: ReturnType<typeof openSnapshot> | undefined,
    at: string,
    known: readonly number[],
    most: number,
  ) => {
    const snapshot = openSnapshot('', version, text, before);
    return { snapshot, sent: sentScoreAt(snapshot, text.indexOf(at), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written', known, most }) };
  };
  const whole = (text: string, version: number, at: string, before?: ReturnType<typeof openSnapshot>) =>
    scoreAt(openSnapshot('', version, text, before), text.indexOf(at), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' });
  const plain = (score: object): unknown =>
    JSON.parse(JSON.stringify(score, (key, value: unknown) => (key === 'revision' ? 'any' : value)));

  test('what is nearest to the cursor comes first; asked again and again, all of it has come', () => {
    const text = lesson(20);
    const { snapshot, sent } = ask(text, 1, undefined, '"P9"', [], 5);
    let score = wholeScore(sent, new Map())!;
    expect(score.phrases.flatMap(({ revision }, i) => (revision > 0 ? [i] : []))).toEqual([7, 8, 9, 10, 11]);
    expect(score.phrases.map(({ name, bars }) => [name, bars.length])).toEqual(Array.from({ length: 20 }, (_, i) => [`P${i}`, 2]));
    let rounds = 1;
    for (; isPartial(score) && rounds < 10; rounds += 1) {
      const known = knownOf(score);
      score = wholeScore(
        sentScoreAt(snapshot, text.indexOf('"P9"'), DEFAULT_THEORY, {
          scope: 'lesson',
          pitch: 'written',
          known: [...known.keys()],
          most: 5,
        }),
        known,
      )!;
    }
    expect(rounds).toBe(4);
    expect(score).toEqual(scoreAt(snapshot, text.indexOf('"P9"'), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }));
  });

  test('after an edit only what changed is sent, and the rest is moved to where it stands now', () => {
    const [before, after] = [lesson(20), lesson(20, ' E ~ C . |')];
    const first = ask(before, 1, undefined, '"P3"', [], 100);
    const known = knownOf(wholeScore(first.sent, new Map())!);
    const { sent } = ask(after, 2, first.snapshot, '"P3"', [...known.keys()], 100);
    expect(sent.phrases.flatMap((one, i) => ('same' in one ? [] : [i]))).toEqual([3]);
    expect(JSON.stringify(sent).length).toBeLessThan(JSON.stringify(first.sent).length / 8);
    expect(plain(wholeScore(sent, known)!)).toEqual(plain(whole(after, 2, '"P3"')));
  });

  test('what counts on a phrase that is not there is no score', () => {
    const first = ask(lesson(3), 1, undefined, '"P1"', [], 100);
    const known = knownOf(wholeScore(first.sent, new Map())!);
    expect(wholeScore(ask(lesson(3), 2, first.snapshot, '"P1"', [...known.keys()], 100).sent, new Map())).toBeNull();
  });
});

describe('a long lesson', () => {
  /** Phrases of these heights, one below the other. */
  const column = (heights: readonly number[]): Extent[] =>
    heights.map((height, i) => {
      const top = heights.slice(0, i).reduce((sum, one) => sum + one, 0);
      return { top, bottom: top + height };
    });
  const heights = fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 60 });

  test('what is in sight is engraved first, the current phrase before all; then outwards', () => {
    const extents = column(Array.from({ length: 10 }, () => 100));
    expect(engravingOrder(extents, { top: 410, bottom: 650 }, 5)).toEqual([5, 4, 6, 3, 7, 2, 8, 1, 9, 0]);
    // The current one is out of sight: what is read comes first.
    expect(engravingOrder(extents, { top: 0, bottom: 150 }, 9)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(engravingOrder([], { top: 0, bottom: 100 }, 0)).toEqual([]);
  });

  test('every phrase is engraved, none out of sight before one in sight', () => {
    always(
      fc.property(heights, fc.nat(5000), fc.integer({ min: 100, max: 2000 }), fc.nat(60), (all, top, height, current) => {
        const [extents, view] = [column(all), { top, bottom: top + height }];
        const order = engravingOrder(extents, view, current);
        expect([...order].sort((a, b) => a - b)).toEqual(all.map((_, i) => i));
        const far = order.map((i) => distanceFrom(view, extents[i]!));
        expect(far).toEqual([...far].sort((a, b) => a - b));
      }),
      RUN,
    );
  });

  test('whatever grows or shrinks, the current phrase in sight stays where it is', () => {
    always(
      fc.property(
        heights,
        fc.nat(5000),
        fc.integer({ min: 100, max: 2000 }),
        fc.nat(59),
        fc.nat(59),
        fc.integer({ min: 1, max: 900 }),
        (all, top, height, current, changed, to) => {
          const [before, after] = [column(all), column(all.map((one, i) => (i === changed ? to : one)))];
          const view = { top, bottom: top + height };
          const anchor = anchorOf(before, view, current);
          if (anchor === null) return;
          if (current < all.length && distanceFrom(view, before[current]!) === 0) expect(anchor).toBe(current);
          expect(distanceFrom(view, before[anchor]!)).toBe(0);
          const scrolled = top + scrollFor(before[anchor]!, after[anchor]!);
          expect(after[anchor]!.top - scrolled).toBe(before[anchor]!.top - top);
        },
      ),
      RUN,
    );
  });

  test('room is kept for what is still to be drawn: more for more bars, a larger size, a narrower page', () => {
    expect(estimatedHeight(0, 800, 1)).toBe(0);
    expect(estimatedHeight(4, 800, 1)).toBeLessThan(estimatedHeight(12, 800, 1));
    expect(estimatedHeight(8, 800, 1)).toBeLessThan(estimatedHeight(8, 400, 1));
    expect(estimatedHeight(8, 800, 1)).toBeLessThan(estimatedHeight(8, 800, 2));
  });

  test('a picture that was slow leaves the typing as much time as it took; after a pause none waits', () => {
    expect(waitAfter({ took: 30, ended: 1000 }, 1001)).toBe(0);
    expect(waitAfter({ took: 400, ended: 1000 }, 1100)).toBe(300);
    expect(waitAfter({ took: 400, ended: 1000 }, 1400)).toBe(0);
    expect(waitAfter({ took: 60_000, ended: 1000 }, 1000)).toBe(2000);
    // Keys that come meanwhile do not put it off.
    always(
      fc.property(fc.nat(5000), fc.array(fc.nat(300)), (took, keys) => {
        const due = keys.reduce((now, pause) => now + pause, 0);
        expect(due + waitAfter({ took, ended: 0 }, due)).toBeLessThanOrEqual(Math.max(due, 2000));
      }),
      RUN,
    );
  });

  test('a phrase keeps its place when others come, go or change their order; one whose name is typed too', () => {
    expect(placesFor(['a', 'b', 'c'], ['a', 'x', 'b', 'c'])).toEqual([0, null, 1, 2]);
    expect(placesFor(['a', 'b', 'c'], ['a', 'c'])).toEqual([0, 2]);
    expect(placesFor(['a', 'b', 'c'], ['c', 'a', 'b'])).toEqual([2, 0, 1]);
    expect(placesFor(['a', 'b', 'c'], ['a', 'bb', 'c'])).toEqual([0, 1, 2]);
    expect(placesFor([], ['a'])).toEqual([null]);
    always(
      fc.property(fc.uniqueArray(fc.string()), fc.uniqueArray(fc.string()), (before, now) => {
        const taken = placesFor(before, now).filter((one) => one !== null);
        expect(new Set(taken).size).toBe(taken.length);
      }),
      RUN,
    );
  });
});
