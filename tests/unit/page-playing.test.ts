/** What playing decides without sound: which phrase plays, where it goes on after a change, how early the text is told, what is said. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { editedIndex, indexOf, placeOf } from '../../client/preview/playing/place';
import { createRenewing, resumption } from '../../client/preview/playing/renewing';
import type { PlayingState, Wish } from '../../client/preview/playing/state';
import { createTakes, isAudible } from '../../client/preview/playing/takes';
import { createTelling } from '../../client/preview/playing/telling';
import { expectedTrip, withTrip } from '../../client/preview/playing/trips';
import { passWords, pictureWords } from '../../client/preview/playing/words';
import type { CursorStep, FromView, Pass, PlayedTake, ScorePhrase } from '../../client/src/score/messages';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';

const phrasesOf = (text: string): readonly ScorePhrase[] =>
  scoreAt(openSnapshot('', 1, text), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases;
const LOCK = 'phrase "Lock"\n  line | D4 . . . |\n';
const weir = (bar: string): string => `phrase "Weir"\n  over | C |\n  line | ${bar} |\n`;
const [WEIR, HIGHER] = ['C4 D4 E4 F4', 'C5 D5 E5 F5'].map((bar) => phrasesOf(weir(bar))[0]!) as [ScorePhrase, ScorePhrase];
const WISH: Wish = { uri: 'a', phrase: WEIR, stretch: null, tempo: null, practice: { kind: 'plain' }, repeat: 'none' };

const passOf = (index: number, shift = 0, tonic: string | null = null): Pass => ({
  at: 4 * index,
  until: 4 * index + 4,
  tempo: 96.4 + 4 * index,
  ratio: 1,
  shift,
  tonic,
});
const stepOf = (note: number, pass = 0): CursorStep => ({ at: 4 * pass + note, until: 4 * pass + note + 1, note, pass });
/** Four notes a pass, one a second. */
const takeOf = (passes: number, notes: readonly number[] = [0, 1, 2, 3]): PlayedTake => ({
  countIn: 0,
  length: 4 * passes,
  passes: Array.from({ length: passes }, (_, i) => passOf(i)),
  sounds: [{ voice: 'line', midi: [60], at: 0, length: 1, velocity: 0.8, accent: false }],
  cursor: Array.from({ length: passes }, (_, pass) => notes.map((note) => stepOf(note, pass))).flat(),
  pictures: [],
});

describe('the phrase that plays', () => {
  const shown = (...texts: readonly string[]) => ({ uri: 'a', phrases: phrasesOf(texts.join('')) });
  const same = weir('C4 D4 E4 F4');

  test('is found wherever it stands, and only as it was when it began', () => {
    expect(indexOf(WISH, shown(same))).toBe(0);
    expect(indexOf(WISH, shown(LOCK, same))).toBe(1);
    expect(indexOf({ ...WISH, uri: 'b' }, shown(same))).toBeNull();
    expect(indexOf(WISH, shown(LOCK, weir('C5 D5 E5 F5')))).toBeNull();
    expect(placeOf(WISH, 2, shown(LOCK, same))).toEqual({ phrase: 1, note: 2 });
    expect(placeOf(WISH, 2, shown(LOCK))).toBeNull();
  });

  test('was edited where one of its name stands in its place that can be played whole', () => {
    expect(editedIndex(WISH, shown(LOCK, weir('C5 D5 E5 F5')))).toBe(1);
    expect(editedIndex(WISH, shown(LOCK, same, weir('C5 D5 E5 F5')))).toBeNull();
    expect(editedIndex(WISH, shown(LOCK))).toBeNull();
    expect(editedIndex({ ...WISH, uri: 'b' }, shown(weir('C5 D5 E5 F5')))).toBeNull();
    expect(editedIndex(WISH, shown(weir('C5 H5 E5 F5')))).toBeNull();
    expect(editedIndex(WISH, { uri: 'a', phrases: [{ ...HIGHER, unfinished: true }] })).toBeNull();
  });
});

describe('another take goes on', () => {
  test('from the note that sounds, in the pass that sounds', () => {
    expect(resumption(takeOf(3), WEIR.notes, { note: 2, pass: 1 })).toEqual({ pass: 1, at: 6 });
    expect(resumption(takeOf(1), WEIR.notes, { note: 2, pass: null })).toEqual({ pass: 0, at: 2 });
  });

  test('in the last pass where there are fewer now', () => {
    expect(resumption(takeOf(2), WEIR.notes, { note: 1, pass: 7 })).toEqual({ pass: 1, at: 5 });
  });

  test('from the next note where it has that one no more, else from the first', () => {
    expect(resumption(takeOf(2, [0, 3]), WEIR.notes, { note: 1, pass: 1 })).toEqual({ pass: 1, at: 7 });
    expect(resumption(takeOf(2, [0, 1]), WEIR.notes, { note: 3, pass: 1 })).toEqual({ pass: 1, at: 0 });
    // A note that the edited phrase has no more: the pass begins again.
    expect(resumption(takeOf(2), WEIR.notes, { note: 9, pass: 1 })).toEqual({ pass: 1, at: 4 });
  });

  test('from the beginning while no note sounds', () => {
    expect(resumption(takeOf(2), WEIR.notes, { note: null, pass: 1 })).toBeNull();
  });
});

describe('on a clock', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  const playing = (note: number | null): PlayingState => ({ current: { wish: WISH, take: takeOf(1), note, pass: 0 } });

  test('the text is told of a note so much earlier as its mark takes, while the same wish plays', () => {
    const posted: FromView[] = [];
    const state = playing(0);
    const host = { post: (message: FromView) => void posted.push(message), shown: () => ({ uri: 'a', phrases: [WEIR] }) };
    const tell = createTelling(state, host, { expected: () => 18 });
    tell(stepOf(1), 150);
    vi.advanceTimersByTime(99);
    expect(posted).toEqual([]);
    vi.advanceTimersByTime(1);
    expect(posted).toMatchObject([{ type: 'sounding', place: { phrase: 0, note: 1 } }]);
    tell(stepOf(2), 150);
    state.current = playing(0).current;
    vi.advanceTimersByTime(1000);
    expect(posted).toHaveLength(1);
  });

  test('an edit is heard after a rest, once, from the note that sounds; none is after the end', async () => {
    const state = playing(2);
    const asked: Wish[] = [];
    const played: number[] = [];
    let phrases = [HIGHER];
    const renewing = createRenewing(state, {
      play: (_take, _repeat, from) => Promise.resolve(played.push(from) > 0),
      takes: { of: (wish) => Promise.resolve(asked.push(wish) > 0 ? takeOf(1) : null) },
      showPass: () => undefined,
      shown: () => ({ uri: 'a', phrases }),
    });
    renewing.takeUpEdit();
    await vi.advanceTimersByTimeAsync(1000);
    renewing.takeUpEdit();
    await vi.advanceTimersByTimeAsync(1199);
    expect(asked).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.map(({ phrase }) => phrase)).toEqual([HIGHER]);
    expect(played).toEqual([2]);
    phrases = [WEIR];
    renewing.takeUpEdit();
    renewing.cancel();
    await vi.advanceTimersByTimeAsync(5000);
    expect(asked).toHaveLength(1);
  });
});

describe('the way to the extension and back', () => {
  test('is expected to take what a quarter of the last fifteen kept to; a hitch counts as 100 ms', () => {
    expect(expectedTrip([])).toBe(0);
    expect(expectedTrip([8])).toBe(8);
    expect(expectedTrip([40, 8, 90, 6, 7, 95, 9, 99])).toBe(8);
    const trips = Array.from({ length: 20 }, (_, i) => i).reduce<readonly number[]>(withTrip, []);
    expect(trips).toEqual([5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19]);
    expect(withTrip([], 4000)).toEqual([100]);
  });
});

describe('a take', () => {
  test('is asked for with a number of its own, and each answer goes to its question', async () => {
    const posted: FromView[] = [];
    const takes = createTakes({ post: (message) => void posted.push(message), options: () => ({ ratio: 1.5, countIn: 1 }) });
    const [first, second] = [takes.of(WISH), takes.of({ ...WISH, tempo: 80 })];
    takes.answer(2, null);
    takes.answer(1, takeOf(1));
    takes.answer(7, null);
    expect(await Promise.all([first, second])).toEqual([takeOf(1), null]);
    expect(posted).toMatchObject([
      { type: 'take', question: { ask: 1, uri: 'a', name: 'Weir', tempo: null, ratio: 1.5, countIn: 1 } },
      { type: 'take', question: { ask: 2, tempo: 80 } },
    ]);
  });

  test('of clicks alone is nothing to play', () => {
    const click = { ...takeOf(1).sounds[0]!, voice: 'click' as const };
    expect([isAudible(takeOf(1)), isAudible({ sounds: [click] }), isAudible({ sounds: [] })]).toEqual([true, false, false]);
  });
});

describe('words', () => {
  test('of a pass: its tempo; of several which one, by its key where these change', () => {
    const faster = takeOf(3);
    expect(passWords(takeOf(1), passOf(0), 0)).toBe('96 beats a minute');
    expect(passWords(faster, passOf(1), 1)).toBe('2 of 3: 100 beats a minute');
    const keys = { passes: [passOf(0, 0, 'C'), passOf(1, 5, 'F'), passOf(2, -2)] };
    expect(keys.passes.map((pass, i) => passWords(keys, pass, i))).toEqual(['1 of 3: in C', '2 of 3: in F', '3 of 3: 2 half steps down']);
  });

  test('on a picture in another key', () => {
    expect(pictureWords({ shift: 0, tonic: 'C' })).toBe('');
    expect(pictureWords({ shift: 5, tonic: 'F' })).toBe('Shown in F, as it sounds; the text stays as it is.');
    expect(pictureWords({ shift: 3, tonic: null })).toBe('Shown 3 half steps up, as it sounds; the text stays as it is.');
  });
});
