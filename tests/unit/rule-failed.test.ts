/** A rule that throws is told once, and takes no other rule's findings away. */
import { afterEach, expect, test, vi } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf, type Finding } from '../../server/src/rules/findings';
import { outOfRange } from '../../server/src/rules/out-of-range';

const CLASH = '  key C major\n  over | Cmaj7 |\n  line | F4-A C5-E G ~ |\n';
const found = (text: string): readonly Finding[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);

afterEach(() => vi.restoreAllMocks());

test('the findings of the other rules stay, and the failure is told at the first phrase alone', () => {
  vi.spyOn(outOfRange, 'check').mockImplementation(() => {
    throw new Error('no such range');
  });
  const findings = found(`phrase "A"\n${CLASH}\nphrase "B"\n${CLASH}`);
  expect(findings.filter(({ rule }) => rule === 'clash')).toHaveLength(2);
  const failures = findings.filter(({ rule }) => rule === 'rule-failed');
  expect(failures).toMatchObject([
    {
      severity: 'information',
      start: 7,
      end: 10,
      message:
        'The rule “out-of-range” could not be checked here, through a fault of Phrasewright (no such range). The findings of the other rules stand.',
    },
  ]);
});

test('without a failure nothing is told', () => {
  expect(found(`phrase "A"\n${CLASH}`).map(({ rule }) => rule)).toEqual(['clash']);
});
