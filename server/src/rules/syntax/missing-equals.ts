import type { RuleDoc } from '../rule';

export const missingEquals: RuleDoc = {
  id: 'missing-equals',
  severity: 'error',
  what: 'A definition has no equals sign.',
  why: 'The sign tells the name from what it stands for.',
  example: 'cell climb 1 2\n',
  instead: 'cell climb = 1 2\n',
  fix: 'Write = after the name.',
  message: (facts) => `Write = after the name: ${facts['kind']} ${facts['name']} = …`,
};
