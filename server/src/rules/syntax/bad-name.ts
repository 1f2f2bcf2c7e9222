import type { RuleDoc } from '../rule';

export const badName: RuleDoc = {
  id: 'bad-name',
  severity: 'error',
  what: 'The name of a definition could be read as a note, a degree or a numeral, or is not in small letters.',
  why: 'The name would never be found where it is used.',
  example: 'changes ii = | C7 |\n',
  instead: 'changes two = | C7 |\n',
  fix: 'Choose a name of small letters that is no pitch, degree or numeral.',
  message: (facts) => `“${facts['name']}” cannot name a ${facts['kind']} definition. Use small letters, and nothing that reads as a pitch, a degree or a numeral.`,
};
