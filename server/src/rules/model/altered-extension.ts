import type { RuleDoc } from '../rule';

export const alteredExtension: RuleDoc = {
  id: 'altered-extension',
  severity: 'hint',
  what: 'A bare 9, 11 or 13 is written where the chord has altered it.',
  why: 'The figure keeps its natural value.',
  example: 'phrase "A"\n  over | C7b9 |\n  line | 1 9 3 5 |\n',
  instead: 'phrase "A"\n  over | C7b9 |\n  line | 1 b9 3 5 |\n',
  fix: 'Write the altered figure if the chord’s own note is meant.',
  message: (facts) => `${facts['chord']} has a ${facts['offer']}; a bare ${facts['figure']} is the natural one.`,
};
