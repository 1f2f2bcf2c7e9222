import type { RuleDoc } from '../rule';

export const badMeter: RuleDoc = {
  id: 'bad-meter',
  severity: 'error',
  what: 'A meter is not written as n/d.',
  why: 'Without the meter no bar can be measured.',
  example: 'phrase "A"\n  meter 4\n',
  instead: 'phrase "A"\n  meter 4/4\n',
  fix: 'Write the beats and the unit, such as 3/4 or 12/8; the unit is 1, 2, 4, 8 or 16.',
  message: (facts) => `A meter is written like 3/4 or 12/8 (unit 1, 2, 4, 8 or 16)${facts['found'] === '' ? '' : `, not “${facts['found']}”`}.`,
};
