import type { RuleDoc } from '../rule';

export const naturalForMissing: RuleDoc = {
  id: 'natural-for-missing',
  severity: 'information',
  what: 'A 3 or 5 is written over a chord that has none.',
  why: 'The major scale’s note is taken, which may not be what you hear.',
  example: 'phrase "A"\n  over | C7sus |\n  line | 1 3 5 4 |\n',
  instead: 'phrase "A"\n  over | C7sus |\n  line | 1 4 5 4 |\n',
  fix: 'Nothing, if the major-scale note is meant.',
  message: (facts) => `${facts['chord']} has no ${facts['figure']} of its own, so the major scale’s is taken.`,
};
