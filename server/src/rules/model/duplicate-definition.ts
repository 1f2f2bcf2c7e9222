import type { RuleDoc } from '../rule';

export const duplicateDefinition: RuleDoc = {
  id: 'duplicate-definition',
  severity: 'error',
  what: 'Two definitions have one name.',
  why: 'Only the first is used.',
  example: 'cell climb = 1 2\ncell climb = 3 5\n',
  instead: 'cell climb = 1 2\ncell fall = 5 3\n',
  fix: 'Rename one of them.',
  message: (facts) => `There is a ${facts['kind']} ${facts['name']} already, and the first one counts. Rename this one.`,
};
