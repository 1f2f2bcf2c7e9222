import type { RuleDoc } from '../rule';

export const weightInChords: RuleDoc = {
  id: 'weight-in-chords',
  severity: 'error',
  what: 'A chord has a weight like those of beat groups.',
  why: 'Chords share a bar equally and are lengthened with slashes.',
  example: 'phrase "A"\n  over | 3:C7 F7 |\n',
  instead: 'phrase "A"\n  over | C7 / / F7 |\n',
  fix: 'Write slashes after the chord.',
  message: (facts) => `Chords take no weights. Write ${facts['written']}: each slash is one more share.`,
};
