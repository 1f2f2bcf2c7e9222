/** What the page of the score decides: which note is the reader's, what a press of the button plays, what other options change. */
import { describe, expect, test } from 'vitest';
import { practiceOf, repeatOf, stretchOf } from '../../client/preview/view/asked';
import { changesPicture, changesSound } from '../../client/preview/view/changed';
import { keptNote, movedCursor, START } from '../../client/preview/view/cursor';
import { DEFAULT_OPTIONS, type ViewOptions } from '../../client/src/score/messages';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';

const TEXT = 'phrase "Weir"\n  over | G7 | C |\n  line G4 | B4 . . . | C5 ~ . . |\n';
const WEIR = scoreAt(openSnapshot('', 1, TEXT), 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'written' }).phrases[0]!;

describe('the cursor', () => {
  /** The first two notes are of one cell. */
  const notes = [
    { start: 10, end: 14 },
    { start: 10, end: 14 },
    { start: 20, end: 22 },
  ];
  const chosen = { ...START, phrase: 1, note: 1 };

  test('stays on the note of a cell that was chosen, which has its place in the text with others', () => {
    expect(keptNote(chosen, { phrase: 1, note: 0 }, notes)).toBe(1);
  });

  test('goes where the text says otherwise', () => {
    expect(keptNote(chosen, { phrase: 1, note: 2 }, notes)).toBe(2);
    expect(keptNote(chosen, { phrase: 0, note: 0 }, notes)).toBe(0);
    expect(keptNote(chosen, { phrase: 1, note: null }, notes)).toBeNull();
    expect(keptNote(START, { phrase: 0, note: 1 }, notes)).toBe(1);
    expect(keptNote({ ...chosen, note: 7 }, { phrase: 1, note: 0 }, notes)).toBe(0);
    expect(keptNote(chosen, { phrase: 1, note: 0 }, undefined)).toBe(0);
  });

  test('keeps its note in a score of the same phrase, in no other', () => {
    const selecting = { phrase: 1, note: 2, selection: { from: 0, to: 4 } };
    expect(movedCursor(selecting, 1)).toEqual(selecting);
    expect(movedCursor(selecting, 3)).toEqual({ phrase: 3, note: null, selection: null });
    expect(movedCursor(selecting, null)).toEqual({ phrase: 0, note: null, selection: null });
  });
});

describe('what is played', () => {
  const at = (note: number | null) => ({ note, selection: null });

  test('the bar of the note at the cursor, a pickup too; the selection; the phrase', () => {
    const [pickup, first, second] = [0, 1, 2].map((note) => stretchOf(WEIR, 'bar', at(note)));
    expect(first).toEqual({ from: 0, to: 4 });
    expect(second).toEqual({ from: 4, to: 8 });
    expect(pickup).toMatchObject({ to: 0 });
    expect(stretchOf(WEIR, 'selection', { note: 0, selection: { from: 1, to: 3 } })).toEqual({ from: 1, to: 3 });
    expect(stretchOf(WEIR, 'phrase', { note: 0, selection: { from: 1, to: 3 } })).toBeNull();
  });

  test('none where no note tells the bar, or nothing is selected', () => {
    expect([stretchOf(WEIR, 'bar', at(null)), stretchOf(WEIR, 'bar', at(9)), stretchOf(WEIR, 'selection', at(1))]).toEqual([
      'none',
      'none',
      'none',
    ]);
  });

  test('practised faster, up to so much above the tempo that is played; in keys by an order', () => {
    const options: ViewOptions = { ...DEFAULT_OPTIONS, step: 6, rise: 30, order: 'half-steps' };
    expect(practiceOf('plain', 100, options)).toEqual({ kind: 'plain' });
    expect(practiceOf('faster', 100, options)).toEqual({ kind: 'faster', step: 6, top: 130 });
    expect(practiceOf('keys', 100, options)).toEqual({ kind: 'keys', order: 'half-steps' });
  });

  test.each([
    ['phrase', 'plain', false, 'none'],
    ['phrase', 'plain', true, 'all'],
    ['selection', 'plain', false, 'none'],
    ['bar', 'plain', false, 'all'],
    ['phrase', 'keys', false, 'all'],
    ['bar', 'faster', true, 'last'],
  ] as const)('%s, %s, loop %s: %s', (what, kind, loop, repeat) => {
    expect(repeatOf({ what, kind }, { loop })).toBe(repeat);
  });
});

describe('other options', () => {
  const others: ViewOptions = {
    scope: DEFAULT_OPTIONS.scope === 'phrase' ? 'lesson' : 'phrase',
    pitch: DEFAULT_OPTIONS.pitch === 'written' ? 'concert' : 'written',
    order: DEFAULT_OPTIONS.order === 'cycle' ? 'half-steps' : 'cycle',
    degrees: !DEFAULT_OPTIONS.degrees,
    devices: !DEFAULT_OPTIONS.devices,
    walkthrough: !DEFAULT_OPTIONS.walkthrough,
    size: DEFAULT_OPTIONS.size + 1,
    loop: !DEFAULT_OPTIONS.loop,
    ratio: 3,
    step: DEFAULT_OPTIONS.step + 1,
    rise: DEFAULT_OPTIONS.rise + 1,
    countIn: DEFAULT_OPTIONS.countIn + 1,
    lineMuted: !DEFAULT_OPTIONS.lineMuted,
    piano: [],
    levels: { ...DEFAULT_OPTIONS.levels, bass: 0 },
  };
  const names = Object.keys(others) as (keyof ViewOptions)[];
  const changing = (changes: (before: ViewOptions, after: ViewOptions) => boolean): string[] =>
    names.filter((name) => changes(DEFAULT_OPTIONS, { ...DEFAULT_OPTIONS, [name]: others[name] })).sort();

  test('draw the page anew, or make anew what plays; each is one that the options have', () => {
    expect([...names].sort()).toEqual(Object.keys(DEFAULT_OPTIONS).sort());
    expect(changing(changesPicture)).toEqual(['degrees', 'devices', 'size', 'walkthrough']);
    expect(changing(changesSound)).toEqual(['loop', 'order', 'ratio', 'rise', 'step']);
  });
});
