import type { RuleDoc } from '../rule';

export const missingWeight: RuleDoc = {
  id: 'missing-weight',
  severity: 'error',
  what: 'A weight has no group, or is no number of beats from 1 to 64.',
  why: 'A weight says how many beats the group after it lasts.',
  example: 'phrase "A"\n  line | 2: C4 D |\n',
  instead: 'phrase "A"\n  line | 2:C4 D E |\n',
  fix: 'Write the weight directly before its group.',
  message: () => 'A weight stands directly before its group, such as 2:C-D, and counts whole beats.',
};
