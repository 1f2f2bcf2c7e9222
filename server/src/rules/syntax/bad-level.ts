import type { RuleDoc } from '../rule';

export const badLevel: RuleDoc = {
  id: 'bad-level',
  severity: 'error',
  what: 'A level is not a number from 1 to 5.',
  why: 'Lessons are graded from 1 (simple) to 5 (demanding).',
  example: 'phrase "A"\n  level 9\n',
  instead: 'phrase "A"\n  level 2\n',
  fix: 'Write 1, 2, 3, 4 or 5.',
  message: (facts) => `A level is 1 to 5${facts['found'] === '' ? '' : `, not “${facts['found']}”`}.`,
};
