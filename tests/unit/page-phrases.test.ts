/** What the parts of the score's page decide without a page: which picture is shown and drawn when, and the way from note to note. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keysOf, movedTo } from '../../client/preview/phrases/keys';
import { inKey, NOTHING, picturedOf, stateWords } from '../../client/preview/phrases/pictured';
import { engravedWidth, stampOf, widthOf } from '../../client/preview/phrases/room';
import { beside, edge, level, type Head, type Notes, type System } from '../../client/preview/phrases/navigation';
import { nextToDraw, nextToEngrave, type Extent } from '../../client/preview/sight';
import { DEFAULT_OPTIONS, type NotePlace, type ScoreFinding, type ScorePhrase } from '../../client/src/score/messages';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, RUN } from '../property/arbitrary';

const phraseOf = (text: string): ScorePhrase =>
  scoreAt(openSnapshot('', 1, text), 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'written' }).phrases[0]!;
const WEIR = phraseOf('phrase "Weir"\n  over | G7 | C |\n  line G4 | B4 . . . | C5 ~ . . |\n');
const ERROR: ScoreFinding = { severity: 'error', message: 'No note is called H.', note: null, start: 20, end: 22 };
const BROKEN: ScorePhrase = { ...WEIR, revision: 2, broken: ERROR };

describe('what tells phrases apart', () => {
  test('document, name, and how many of that name', () => {
    expect(keysOf('a', [{ name: 'Weir' }, { name: '' }, { name: 'Weir' }])).toEqual(['a 1 Weir', 'a 1 ', 'a 2 Weir']);
  });

  test('no two phrases of a score have one key, whatever they are called', () => {
    const name = fc.oneof(fc.constantFrom('', 'A', '1 A', '2 A', '1', ' '), fc.string());
    always(
      fc.property(fc.array(name.map((one) => ({ name: one }))), (phrases) => {
        expect(new Set(keysOf('file:///a.phrase', phrases)).size).toBe(phrases.length);
      }),
      RUN,
    );
  });

  test('what sounds moves with its phrase, and ends where that is gone', () => {
    const [a, b, c, d] = [{}, {}, {}, {}];
    const place = { phrase: 1, note: 3 };
    expect(movedTo(place, [a, b, c], [b, d, a])).toEqual({ phrase: 0, note: 3 });
    expect(movedTo(place, [a, b, c], [a, c])).toBeNull();
    expect(movedTo({ phrase: 7, note: 0 }, [a], [a])).toBeNull();
    expect(movedTo(null, [a], [a])).toBeNull();
  });
});

describe('the picture of a phrase', () => {
  test('is of the text as it is, where that can be read or nothing better is known', () => {
    expect(picturedOf(WEIR, { ...WEIR, revision: 9 })).toEqual({ pictured: WEIR, state: 'current' });
    expect(picturedOf(BROKEN, undefined)).toEqual({ pictured: BROKEN, state: 'current' });
  });

  test('is the last good one while a note is being written, and pale where there is an error', () => {
    const unfinished = { ...WEIR, revision: 3, unfinished: true };
    expect(picturedOf(unfinished, WEIR)).toEqual({ pictured: WEIR, state: 'behind' });
    expect(picturedOf(BROKEN, WEIR)).toEqual({ pictured: WEIR, state: 'stale' });
    expect(picturedOf({ ...BROKEN, unfinished: true }, WEIR)).toEqual({ pictured: WEIR, state: 'stale' });
  });

  test('is said to be out of date with the error, which is not said twice', () => {
    const isSaid: ScorePhrase = { ...BROKEN, findings: [ERROR] };
    expect(stateWords({ phrase: WEIR, pictured: WEIR })).toBe('');
    expect(stateWords({ phrase: BROKEN, pictured: WEIR })).toBe('The picture is of the text before this error.\nNo note is called H.');
    expect(stateWords({ phrase: BROKEN, pictured: BROKEN })).toBe('The picture leaves out what cannot be read.\nNo note is called H.');
    expect(stateWords({ phrase: isSaid, pictured: WEIR })).toBe('The picture is of the text before this error.');
  });

  test('of a phrase without notes says how to begin; of one that is still to come nothing', () => {
    const empty = { ...WEIR, notes: [] };
    expect(stateWords({ phrase: empty, pictured: empty })).toContain('no notes yet');
    expect(stateWords({ phrase: NOTHING, pictured: NOTHING })).toBe('');
  });

  test('in another key has the labels of that key, and the places in the text of the one that is written', () => {
    const { notes, musicXml, name } = inKey(WEIR, { musicXml: '<other/>', labels: ['D4', 'F♯4'] });
    expect([musicXml, name, notes.length]).toEqual(['<other/>', 'Weir', 3]);
    expect(notes.map(({ label, lines }) => [label, lines])).toEqual([
      ['D4', ['D4']],
      ['F♯4', ['F♯4']],
      [WEIR.notes[2]!.label, WEIR.notes[2]!.lines],
    ]);
    expect(notes.map(({ start, end }) => [start, end])).toEqual(WEIR.notes.map(({ start, end }) => [start, end]));
  });
});

describe('the room of a picture', () => {
  const room = { width: 800, options: DEFAULT_OPTIONS };

  test('is the page in steps of 20 pixels, within bounds; for larger notes it is engraved narrower, no narrower than a bar', () => {
    expect([0, 99, 119, 120, 805, 5000].map((clientWidth) => widthOf({ clientWidth }))).toEqual([100, 100, 100, 120, 800, 1100]);
    expect([0.5, 1, 2, 3, 4].map((size) => engravedWidth({ ...room, options: { ...DEFAULT_OPTIONS, size } }))).toEqual([
      1600, 800, 400, 267, 240,
    ]);
  });

  test('whatever changes the picture draws it anew; its place in the file and the walk-through do not', () => {
    const stamp = stampOf(WEIR, room);
    const others = [
      stampOf({ ...WEIR, revision: WEIR.revision + 1 }, room),
      stampOf({ ...WEIR, unfinished: true }, room),
      stampOf({ ...WEIR, broken: ERROR }, room),
      stampOf(WEIR, { ...room, width: 820 }),
      stampOf(WEIR, { ...room, options: { ...DEFAULT_OPTIONS, size: 2 } }),
      stampOf(WEIR, { ...room, options: { ...DEFAULT_OPTIONS, degrees: false } }),
      stampOf(WEIR, { ...room, options: { ...DEFAULT_OPTIONS, devices: false } }),
    ];
    expect(new Set([stamp, ...others]).size).toBe(8);
    expect(stampOf({ ...WEIR, start: 100 }, { ...room, options: { ...DEFAULT_OPTIONS, walkthrough: false } })).toBe(stamp);
  });
});

describe('what is drawn next', () => {
  const extents: Extent[] = Array.from({ length: 60 }, (_, i) => ({ top: 100 * i, bottom: 100 * (i + 1) }));
  const view = { top: 1000, bottom: 1300 };
  const all = (): boolean => true;

  test('is the current phrase in sight, then what is in sight, then what is no farther than the view is high', () => {
    const drawn: number[] = [];
    const waits = (index: number): boolean => !drawn.includes(index);
    for (let next = nextToDraw(waits, extents, view, 11); next !== null; next = nextToDraw(waits, extents, view, 11)) drawn.push(next);
    expect(drawn.slice(0, 3)).toEqual([11, 9, 10]);
    expect([...drawn].sort((a, b) => a - b)).toEqual([6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]);
    expect(nextToDraw(() => false, extents, view, 11)).toBeNull();
  });

  test('the next two dozen of those that wait are engraved ahead, the nearest first', () => {
    expect(nextToEngrave((index) => index > 16, extents, view, 11)).toEqual(Array.from({ length: 24 }, (_, i) => 17 + i));
    expect(nextToEngrave(all, extents.slice(0, 3), view, 0)).toEqual([2, 1, 0]);
  });
});

describe('from note to note', () => {
  /** A stale phrase has notes, none of which can be chosen. */
  const phrases: Notes[] = [3, 0, 2].map((count) => ({ count, isStale: false }));
  const at = (phrase: number, note: number): NotePlace => ({ phrase, note });

  test('beside: through a phrase, and past those that have no note to choose', () => {
    expect(beside(phrases, at(0, 0), 1)).toEqual(at(0, 1));
    expect(beside(phrases, at(0, 2), 1)).toEqual(at(2, 0));
    expect(beside(phrases, at(2, 0), -1)).toEqual(at(0, 2));
    expect([beside(phrases, at(0, 0), -1), beside(phrases, at(2, 1), 1), beside([], at(0, 0), 1)]).toEqual([null, null, null]);
    const stale = [phrases[0]!, { count: 5, isStale: true }, phrases[2]!];
    expect(beside(stale, at(0, 2), 1)).toEqual(at(2, 0));
  });

  test('one step back takes back one step on', () => {
    const phrase = fc.record({ count: fc.nat(4), isStale: fc.boolean() });
    always(
      fc.property(fc.array(phrase, { maxLength: 8 }), (all) => {
        const places = all.flatMap(({ count, isStale }, i) => (isStale ? [] : Array.from({ length: count }, (_, note) => at(i, note))));
        places.forEach((place, i) => {
          expect(beside(all, place, 1)).toEqual(places[i + 1] ?? null);
          expect(beside(all, place, -1)).toEqual(places[i - 1] ?? null);
        });
      }),
      RUN,
    );
  });

  test('to the edges of the phrase', () => {
    expect([edge(phrases, at(0, 1), 'first'), edge(phrases, at(0, 1), 'last'), edge(phrases, at(1, 0), 'last')]).toEqual([
      at(0, 0),
      at(0, 2),
      at(1, 0),
    ]);
  });

  describe('level', () => {
    const head = (middle: number, isFirst = true): Head => ({ middle, isFirst });
    const systemOf = (phrase: number, ...notes: readonly (readonly [number, ...Head[]])[]): System<Head> => ({
      phrase,
      places: new Map(notes.map(([note, ...parts]) => [note, parts])),
    });
    /** The third note is tied over the line's end: the second system shows the rest of it. */
    const systems = [
      systemOf(0, [0, head(100)], [1, head(300)], [2, head(500), head(700, false)]),
      systemOf(0, [2, head(90, false)], [3, head(310)]),
      systemOf(1),
      systemOf(2, [0, head(120)], [1, head(280)], [2, head(320)]),
    ];
    const step = (place: NotePlace, by: 1 | -1): NotePlace | null => level(systems, place, by, (part) => part);

    test('the nearest note below or above, past systems that have none; what is tied over is none to choose', () => {
      expect(step(at(0, 0), 1)).toEqual(at(0, 3));
      expect(step(at(0, 3), -1)).toEqual(at(0, 1));
      expect(step(at(0, 3), 1)).toEqual(at(2, 2));
      expect(step(at(2, 0), -1)).toEqual(at(0, 3));
      expect([step(at(0, 1), -1), step(at(2, 1), 1), step(at(5, 0), 1)]).toEqual([null, null, null]);
    });

    test('of two that are as near the left one', () => {
      expect(level([systemOf(0, [0, head(200)]), systemOf(0, [1, head(100)], [2, head(300)])], at(0, 0), 1, (part) => part)).toEqual(
        at(0, 1),
      );
    });
  });
});
