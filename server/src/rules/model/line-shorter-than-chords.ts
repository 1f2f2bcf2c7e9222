import type { RuleDoc } from '../rule';

export const lineShorterThanChords: RuleDoc = {
  id: 'line-shorter-than-chords',
  severity: 'information',
  what: 'A line has fewer bars than its chords.',
  why: 'It rests for the bars that are left.',
  example: 'phrase "A"\n  over | Dm7 | G7 |\n  line | D4 F A F |\n',
  instead: 'phrase "A"\n  over | Dm7 | G7 |\n  line | D4 F A F | G ~ . . |\n',
  fix: 'Write the missing bars.',
  message: (facts) => `The chords have ${facts['chords']} bars and the line ${facts['line']}. It rests for what is left.`,
};
