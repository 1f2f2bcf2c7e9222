import type { RuleDoc } from '../rule';

export const compoundFigure: RuleDoc = {
  id: 'compound-figure',
  severity: 'error',
  what: 'An octave, tenth or twelfth is written as a degree.',
  why: 'Degrees name the note; which octave it stands in is said by a direction.',
  example: 'phrase "A"\n  over | C |\n  line | 1 3 5 8 |\n',
  instead: 'phrase "A"\n  over | C |\n  line | 1 3 5 /1 |\n',
  fix: 'Write the simple degree with / before it.',
  message: (facts) => `${facts['figure']} is the ${facts['simple']} an octave up. Write /${facts['simple']} for the next one above.`,
};
