import type { RuleDoc } from '../rule';

export const nestedDefinition: RuleDoc = {
  id: 'nested-definition',
  severity: 'error',
  what: 'A `changes` or `cell` definition is written inside a phrase.',
  why: 'Definitions serve the whole file; inside a phrase they hide what the phrase’s rows belong to.',
  example: 'phrase "A"\n  cell climb = 1 2\n  over | C |\n  line | C4 D E F |\n',
  instead: 'cell climb = 1 2\nphrase "A"\n  over | C |\n  line | climb climb |\n',
  fix: 'Move the definition above the phrase.',
  message: (facts) => `A ${facts['kind']} definition stands inside a phrase. Move it above the phrase; it serves the whole file.`,
};
