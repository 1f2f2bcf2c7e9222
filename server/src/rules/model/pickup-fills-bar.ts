import type { RuleDoc } from '../rule';

export const pickupFillsBar: RuleDoc = {
  id: 'pickup-fills-bar',
  severity: 'information',
  what: 'What stands before the first bar line is as long as a bar.',
  why: 'It is read as bar 1, not as a pickup.',
  example: 'phrase "A"\n  line C4 D E F | G ~ ~ ~ |\n',
  instead: 'phrase "A"\n  line | C4 D E F | G ~ ~ ~ |\n',
  fix: 'Write the bar line before it.',
  message: (facts) => `These ${facts['beats']} beats fill a bar of ${facts['meter']}, so they are bar ${facts['bar']}. Write the bar line before them.`,
};
