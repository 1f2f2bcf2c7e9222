import type { RuleDoc } from '../rule';

export const numeralWithoutKey: RuleDoc = {
  id: 'numeral-without-key',
  severity: 'error',
  what: 'A Roman numeral is written in a phrase without a key.',
  why: 'A numeral counts from the tonic of the key.',
  example: 'phrase "A"\n  over | ii7 V7 |\n',
  instead: 'phrase "A"\n  key C major\n  over | ii7 V7 |\n',
  fix: 'Write a key row.',
  message: (facts) => `${facts['numeral']} counts from a key, and the phrase has none. Write a key row, such as key F major.`,
};
