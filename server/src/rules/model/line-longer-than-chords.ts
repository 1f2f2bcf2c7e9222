import type { RuleDoc } from '../rule';

export const lineLongerThanChords: RuleDoc = {
  id: 'line-longer-than-chords',
  severity: 'warning',
  what: 'A line has more bars than its chords.',
  why: 'It goes on over the last chord, and its degrees count from that.',
  example: 'phrase "A"\n  over | Dm7 | G7 |\n  line | D4 F A F | G B D5 B | C ~ ~ ~ |\n',
  instead: 'phrase "A"\n  over | Dm7 | G7 | C |\n  line | D4 F A F | G B D5 B | C ~ ~ ~ |\n',
  fix: 'Write the missing chords.',
  message: (facts) => `The line has ${facts['line']} bars and the chords ${facts['chords']}. From here on it goes on over the last chord.`,
};
