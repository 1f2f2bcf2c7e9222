import type { RuleDoc } from '../rule';

export const numeralInMinor: RuleDoc = {
  id: 'numeral-in-minor',
  severity: 'hint',
  what: 'A bare III, VI or VII is written in a minor key.',
  why: 'Numerals count from the major scale in both modes, so VI of C minor is an A, and the scale’s own A-flat is bVI.',
  example: 'phrase "A"\n  key C minor\n  over | VImaj7 |\n',
  instead: 'phrase "A"\n  key C minor\n  over | bVImaj7 |\n',
  fix: 'Write the flat where you mean the scale’s own degree.',
  message: (facts) => `${facts['numeral']} in a minor key is counted from the major scale. Write b${facts['numeral']} if you mean the scale’s own degree.`,
};
