import type { RuleDoc } from '../rule';

export const barRepeatNotAlone: RuleDoc = {
  id: 'bar-repeat-not-alone',
  severity: 'error',
  what: 'A % stands in a bar with other chords.',
  why: 'It repeats the whole bar before.',
  example: 'phrase "A"\n  over | C7 | % F7 |\n',
  instead: 'phrase "A"\n  over | C7 | / F7 |\n',
  fix: 'Write / to repeat the chord before, or let % fill the bar.',
  message: () => '% repeats a whole bar and stands alone in it. For one more share of the chord before, write /.',
};
