import type { RuleDoc } from '../rule';

export const figureWithoutChord: RuleDoc = {
  id: 'figure-without-chord',
  severity: 'error',
  what: 'A degree stands where no chord sounds.',
  why: 'A degree is counted from a chord.',
  example: 'phrase "A"\n  line | 1 2 3 5 |\n',
  instead: 'phrase "A"\n  over | C7 |\n  line | 1 2 3 5 |\n',
  fix: 'Write the chord in an over row, or write a pitch.',
  message: (facts) => `The degree ${facts['figure']} needs a chord to count from, and none sounds here. Write the chord, or write a pitch.`,
};
