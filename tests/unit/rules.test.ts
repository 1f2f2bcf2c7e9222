/** Every rule speaks in its own example and is silent in what it says to write instead. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { RULES } from '../../server/src/rules/registry';

function rulesIn(text: string): string[] {
  return findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).map((finding) => finding.rule);
}

describe.each(RULES.filter((rule) => rule.example !== ''))('rule $id', (rule) => {
  test('speaks in its example', () => {
    expect(rulesIn(rule.example)).toContain(rule.id);
  });
  test('is silent in what to write instead', () => {
    expect(rulesIn(rule.instead)).not.toContain(rule.id);
  });
});

test('rule ids are unique and hyphenated', () => {
  const ids = RULES.map((rule) => rule.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/);
});
