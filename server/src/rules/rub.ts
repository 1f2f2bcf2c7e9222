import { opening, reasonWords } from './clash';
import { verdictProblems } from './clash-facts';
import type { AnalysisRule } from './rule';

export const rub: AnalysisRule = {
  id: 'rub',
  severity: 'information',
  what: 'An avoid note or a note outside the chord-scale is mildly exposed (an avoid note on a weak beat, a note outside the scale there for less than a beat, either of them on an offbeat for a beat or more) and does not resolve in time.',
  why: 'It may pass at tempo; played slowly, or by a student who leans on it, it sounds like a mistake.',
  example: 'phrase "Rub"\n  key  C major\n  over | Cmaj7 |\n  line | C5 F-C G E |\n',
  instead: 'phrase "Rub"\n  key  C major\n  over | Cmaj7 |\n  line | C5 F-E C E |\n',
  fix: 'Let it move by step to a chord tone, or mark it as intended with `!`.',
  message: (facts) => `${opening(facts)}: ${reasonWords(facts)}. It passes if it goes on by step into the chord; here it does not.`,
  check: (reading) => verdictProblems(reading, 'rub', (verdict) => verdict.level === 'information'),
};
