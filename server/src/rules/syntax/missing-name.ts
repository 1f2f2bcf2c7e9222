import type { RuleDoc } from '../rule';

export const missingName: RuleDoc = {
  id: 'missing-name',
  severity: 'error',
  what: 'A definition has no name.',
  why: 'Without a name nothing can use it.',
  example: 'changes = | C7 |\n',
  instead: 'changes home = | C7 |\n',
  fix: 'Write a name in small letters after the keyword.',
  message: (facts) => `A ${facts['kind']} definition needs a name in small letters and an equals sign: ${facts['kind']} turn = …`,
};
