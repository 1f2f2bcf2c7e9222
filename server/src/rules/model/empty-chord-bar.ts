import type { RuleDoc } from '../rule';

export const emptyChordBar: RuleDoc = {
  id: 'empty-chord-bar',
  severity: 'warning',
  what: 'A bar of chords is empty.',
  why: 'The chord before goes on, which may not be meant.',
  example: 'phrase "A"\n  over | C7 | | F7 |\n',
  instead: 'phrase "A"\n  over | C7 | % | F7 |\n',
  fix: 'Write % to repeat the bar before.',
  message: () => 'This bar holds no chord; the one before goes on. Write % if that is meant.',
};
