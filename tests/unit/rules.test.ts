/** Every rule speaks in its own example and is silent in what it says to write instead. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf, type Finding } from '../../server/src/rules/findings';
import { MODEL_RULES } from '../../server/src/rules/model-rules';
import { RULES } from '../../server/src/rules/registry';
import { SYNTAX_RULES } from '../../server/src/rules/syntax-rules';

function findingsIn(text: string): readonly Finding[] {
  return findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
}

describe.each(RULES.filter((rule) => rule.example !== ''))('rule $id', ({ id, example, instead }) => {
  test('does not throw', () => {
    const failed = [example, instead].flatMap(findingsIn).filter((one) => one.rule === 'rule-failed' && one.message.includes(`“${id}”`));
    expect(failed.map(({ message }) => message)).toEqual([]);
  });
  test('speaks in its example', () => {
    expect(findingsIn(example).map(({ rule }) => rule)).toContain(id);
  });
  test('is silent in what to write instead', () => {
    expect(findingsIn(instead).map(({ rule }) => rule)).not.toContain(id);
  });
});

test('the tables of texts are in the order of their ids', () => {
  for (const table of [SYNTAX_RULES, MODEL_RULES]) {
    const ids = table.map(({ id }) => id);
    expect(ids).toEqual([...ids].sort());
  }
});

test('rule ids are unique and hyphenated', () => {
  const ids = RULES.map((rule) => rule.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/);
});

// A note outside the scale on a weak beat counts only if it lasts a beat (THEORY, section 5): the message says so.
test.each([
  [
    'C4 Eb G F#',
    'clash',
    'F# falls on beat 4 over Cm7 for a whole beat: it is the #11, outside C dorian. Let it rise to G, or move it off the beat.',
  ],
  ['C4 F# ~-C G', 'clash', 'F# falls on beat 2 over Cm7 for '],
  ['C4 B-F D G', 'rub', 'B falls on beat 2 over Cm7: it is the '],
  ['C4 F# G Eb', null, ''],
])('%s over Cm7: %s', (line, rule, says) => {
  const [found] = findingsOf(
    openSnapshot('file:///a.phrase', 1, `phrase "A"\n  key C minor\n  over | Cm7 | F7 |\n  line | ${line} | A C Eb . |\n`),
    DEFAULT_THEORY,
  );
  expect(found?.rule ?? null).toBe(rule);
  expect(found?.message ?? '').toContain(says);
});
