import type { RuleDoc } from '../rule';

export const missingClaim: RuleDoc = {
  id: 'missing-claim',
  severity: 'error',
  what: 'A claim row is empty.',
  why: 'There is nothing to prove.',
  example: 'phrase "A"\n  claim\n',
  instead: 'phrase "A"\n  key C major\n  over | C |\n  line | C4 D E F |\n  claim diatonic\n',
  fix: 'Write a claim, such as diatonic.',
  message: () => 'A claim row wants a claim, such as: claim diatonic.',
};
