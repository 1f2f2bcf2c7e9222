import type { RuleDoc } from '../rule';

export const figureWithoutNote: RuleDoc = {
  id: 'figure-without-note',
  severity: 'error',
  what: 'A figure of the degrees row stands under no note.',
  why: 'It numbers a held note, a rest or nothing.',
  example: 'phrase "A"\n  over | C |\n  line | C4 ~ E . |\n  degrees | 1 2 3 * |\n',
  instead: 'phrase "A"\n  over | C |\n  line | C4 ~ E . |\n  degrees | 1 * 3 * |\n',
  fix: 'Write * there.',
  message: (facts) => `The figure ${facts['figure']} stands under ${facts['stands']}. Write * where there is nothing to number.`,
};
