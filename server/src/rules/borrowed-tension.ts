import { verdictProblems } from './clash-facts';
import type { AnalysisRule } from './rule';

export const borrowedTension: AnalysisRule = {
  id: 'borrowed-tension',
  severity: 'hint',
  what: 'A tension that the chord only borrows lasts a beat or more and is left by leap to no chord tone.',
  why: 'A borrowed colour convinces by where it goes. Left hanging, it sounds like a wrong note.',
  example: 'phrase "Hanging"\n  key  C major\n  over | G7 | Cmaj7 |\n  line | B4 Ab E5 D | C ~ . . |\n',
  instead: 'phrase "Hanging"\n  key  C major\n  over | G7 | Cmaj7 |\n  line | B4 Ab G F | E ~ . . |\n',
  fix: 'Lead it by step to a chord tone, or mark it as intended with `!`.',
  message: (facts) =>
    `${facts['note']} over ${facts['chord']} is a borrowed ${facts['figure']} that leaps away. Lead it by step to a chord tone.`,
  check: (reading) => verdictProblems(reading, 'borrowed-tension', (verdict) => verdict.reason === 'borrowed-leap'),
};
