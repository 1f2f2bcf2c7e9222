/** Where devices and findings stand among the notes of a score, and how their brackets are told apart. */
import { Fraction } from '../../../server/src/model/fraction';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { placedRemarks, type Remark } from '../../../server/src/exports/remarks';
import { REMARKS, remarksOf } from '../../../server/src/handout/remarks';
import { openSnapshot } from '../../../server/src/model/snapshot';
import type { XmlElement } from '../../../server/src/exports/xml';

const device = (from: number, to: number): Remark => ({ kind: 'device', text: `${from}–${to}`, notes: { from, to }, at: null });
const QUARTER = { onset: new Fraction(0), length: new Fraction(1) };

/** `1 start`, in the order of a score of so many notes. */
function brackets(remarks: readonly Remark[], notes: number): string[] {
  const placed = placedRemarks(remarks);
  const told = ({ name, attributes, children }: XmlElement): string[] =>
    name === 'bracket'
      ? [`${attributes['number']} ${attributes['type']}`]
      : children.flatMap((child) => (typeof child === 'string' ? [] : told(child)));
  return Array.from({ length: notes }, (_, note) => placed.at(note, 1, QUARTER)).flatMap(({ before, after }) =>
    [...before, ...after].flatMap(told),
  );
}

test('brackets that are open at the same time have different numbers; a number is free after its last note', () => {
  expect(brackets([device(0, 2), device(2, 4), device(3, 5)], 6)).toEqual(['1 start', '2 start', '1 stop', '1 start', '2 stop', '1 stop']);
});

test('each bracket that opens closes, and of twenty at once sixteen are drawn', () => {
  const all = brackets(
    Array.from({ length: 20 }, (_, i) => device(i, 30)),
    31,
  );
  expect(all.filter((one) => one.endsWith('start'))).toHaveLength(16);
  expect(all.filter((one) => one.endsWith('stop'))).toHaveLength(16);
});

test('a device of one note has its name alone', () => {
  const { before, after } = placedRemarks([device(1, 1)]).at(1, 1, QUARTER);
  expect([before.length, after.length]).toEqual([1, 0]);
  expect(brackets([device(1, 1)], 3)).toEqual([]);
});

test('a finding on a held note stands at the tied part over the chord it is about; one about no note stands at the beginning', () => {
  const snapshot = openSnapshot(
    '',
    1,
    'phrase "A"\n  key   C major\n  over  | G7 | Cmaj7 |\n  line  | . . F4 ~ | ~ ~ . . |\n  claim enclosure of 3 at 2.1\n',
  );
  const remarks = remarksOf(snapshot, snapshot.phrases[0]!, { shown: REMARKS, pitch: 'written', theory: DEFAULT_THEORY }).filter(
    ({ kind }) => kind === 'finding',
  );
  expect(remarks.map(({ text, notes, at }) => [/^\S+ \S+/.exec(text)![0], notes, at?.toFraction() ?? null])).toEqual([
    [expect.stringMatching(/^F/), { from: 0, to: 0 }, '4'],
    ['“enclosure of', null, null],
  ]);
  const placed = placedRemarks(remarks);
  expect(placed.opening).toHaveLength(1);
  expect(placed.at(0, 1, { onset: new Fraction(2), length: new Fraction(2) }).before).toEqual([]);
  expect(placed.at(0, 2, { onset: new Fraction(4), length: new Fraction(2) }).before).toHaveLength(1);
});

test('at written pitch a finding speaks of the notes on the page, at concert pitch of those that sound', () => {
  const snapshot = openSnapshot('', 1, 'phrase "A"\n  part  trumpet\n  key   C major\n  over  | Cmaj7 |\n  line  | F4 A C5 ~ |\n');
  const said = (pitch: 'written' | 'concert'): string[] =>
    remarksOf(snapshot, snapshot.phrases[0]!, { shown: ['findings'], pitch, theory: DEFAULT_THEORY }).map(({ text }) =>
      /^(\S+) .* over (\w+)/.exec(text)!.slice(1).join(' over '),
    );
  expect([said('written'), said('concert')]).toEqual([['G over Dmaj7'], ['F over Cmaj7']]);
});
