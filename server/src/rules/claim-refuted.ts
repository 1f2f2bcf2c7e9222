import { claimProblems } from './claim-problems';
import { claimSentence } from './claim-words';
import type { AnalysisRule } from './rule';

export const claimRefuted: AnalysisRule = {
  id: 'claim-refuted',
  severity: 'warning',
  what: 'A claim does not hold of the phrase.',
  why: 'Students trust what the lesson says about its own line.',
  example: 'phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | E4 G B C |\n  claim lands 5 at 1.1\n',
  instead: 'phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | E4 G B C |\n  claim lands 3 at 1.1\n',
  fix: 'Correct the claim, change the line, or remove the claim.',
  message: ({ claim, because }) => claimSentence(String(claim), { status: 'refuted', because: String(because) }),
  check: (reading) => claimProblems(reading, 'refuted'),
  looksFar: ({ claims }) => claims.length > 0,
};
