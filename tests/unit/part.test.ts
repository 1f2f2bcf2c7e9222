/** Parts by the names that people give them. */
import { expect, test } from 'vitest';
import { openSnapshot } from '../../server/src/model/snapshot';

const opened = (part: string) => openSnapshot('', 1, `phrase "A"\n  part    ${part}\n  line    | C4 ~ ~ ~ |\n`);

test.each([
  ['tenor-sax', 'tenor-sax'],
  ['tenor sax', 'tenor-sax'],
  ['Tenor Saxophone', 'tenor-sax'],
  ['tenor', 'tenor-sax'],
  ['alto', 'alto-sax'],
  ['baritone  sax', 'baritone-sax'],
  ['Trumpet', 'trumpet'],
  ['concert part', 'concert'],
  ['bass', 'bass'],
])('part %s', (written, name) => {
  const { phrases, problems } = opened(written);
  expect(phrases[0]!.phrase.part.name).toBe(name);
  expect(problems).toEqual([]);
});

test('one that is none is one error, at all of its words', () => {
  const snapshot = opened('alto kazoo');
  expect(snapshot.problems.map(({ problem }) => problem.rule)).toEqual(['unknown-part']);
  const [
    {
      problem: { range },
    },
  ] = snapshot.problems as [(typeof snapshot.problems)[number]];
  expect(snapshot.text.slice(range.start, range.end)).toBe('alto kazoo');
});
