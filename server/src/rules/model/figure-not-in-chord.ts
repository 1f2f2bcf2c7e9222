import type { RuleDoc } from '../rule';

export const figureNotInChord: RuleDoc = {
  id: 'figure-not-in-chord',
  severity: 'error',
  what: 'A 7 is written over a chord without a seventh.',
  why: 'It could be the flat or the major seventh.',
  example: 'phrase "A"\n  over | C |\n  line | 1 3 5 7 |\n',
  instead: 'phrase "A"\n  over | C |\n  line | 1 3 5 b7 |\n',
  fix: 'Write b7 or n7.',
  message: (facts) => `${facts['chord']} has no seventh of its own. Write b7 or n7.`,
};
