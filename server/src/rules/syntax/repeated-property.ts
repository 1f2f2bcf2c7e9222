import type { RuleDoc } from '../rule';

export const repeatedProperty: RuleDoc = {
  id: 'repeated-property',
  severity: 'warning',
  what: 'A property is written twice in one block.',
  why: 'Only the last one counts, which may not be the one you look at.',
  example: 'phrase "A"\n  level 1\n  level 2\n',
  instead: 'phrase "A"\n  level 2\n',
  fix: 'Keep one of them.',
  message: (facts) => `“${facts['word']}” is written again below; the last one counts.`,
};
