/** The bass that slash chords draw, and how it is told. */
import { expect, test } from 'vitest';
import { bassLine, bassMove } from '../../server/src/analysis/bass-line';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { walkthrough } from '../../server/src/explain/walkthrough';
import { openSnapshot } from '../../server/src/model/snapshot';
import { formatNoteName } from '../../server/src/theory/pitch';

const reading = (over: string) =>
  readPhrase(openSnapshot('', 1, `phrase "A"\n  key D major\n  over ${over}\n  line | D4 ~ ~ ~ |\n`).phrases[0]!.phrase, DEFAULT_THEORY);

test.each([
  ['a fall through inversions', '| D D/C | G/B Gm/Bb | D/A |', 'D-C-B-Bb-A'],
  ['a climb', '| D/F# G | A7 | D |', ''],
  ['a climb with two slashes', '| D/F# G | D/A A7 |', 'F#-G-A'],
  ['roots alone are no bass line', '| D Em7 | F#m7 G |', ''],
  ['two chords are none', '| D D/C | A7 |', ''],
])('%s', (_, over, line) => {
  expect(bassLine(reading(over).phrase.spans).map(formatNoteName).join('-')).toBe(line);
});

test('it is told once, with the progression', () => {
  const { setting, telling } = walkthrough(reading('| D D/C | G/B Gm/Bb | D/A |'));
  expect(setting).toMatch(/; the bass falls D-C-B-Bb-A; Gm\/Bb, the minor iv, is borrowed from D minor\.$/);
  expect(telling.map(({ text }) => text).join(' ')).not.toContain('in the bass');
});

test('the shorter way from one bass note to the next', () => {
  expect([
    bassMove({ letter: 'C', alter: 0 }, { letter: 'B', alter: 0 }),
    bassMove({ letter: 'B', alter: 0 }, { letter: 'C', alter: 0 }),
  ]).toEqual([-1, 1]);
});
