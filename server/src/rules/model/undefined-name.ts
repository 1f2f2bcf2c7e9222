import type { RuleDoc } from '../rule';

export const undefinedName: RuleDoc = {
  id: 'undefined-name',
  severity: 'error',
  what: 'A name of a cell or of changes is used that nothing defines.',
  why: 'Nothing sounds there.',
  example: 'phrase "A"\n  over home\n',
  instead: 'changes home = | C7 |\nphrase "A"\n  over home\n',
  fix: 'Define it, or correct the name.',
  message: (facts) => `There is no ${facts['kind']} called ${facts['name']}.${facts['known'] === '' ? ` Define it: ${facts['kind']} ${facts['name']} = …` : ` Known: ${facts['known']}.`}`,
};
