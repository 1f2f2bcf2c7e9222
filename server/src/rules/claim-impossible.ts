import { claimProblems } from './claim-problems';
import { claimSentence } from './claim-words';
import type { AnalysisRule } from './rule';

export const claimImpossible: AnalysisRule = {
  id: 'claim-impossible',
  severity: 'error',
  what: 'A claim cannot be read, or names something that cannot be.',
  why: 'A claim that nothing could refute would look true for ever.',
  example: 'phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | E4 G B C |\n  claim lands 3 at 9.1\n',
  instead: 'phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | E4 G B C |\n  claim lands 3 at 1.1\n',
  fix: 'Write a claim of one of the known kinds, with places that the phrase has.',
  message: ({ claim, because, instead }) =>
    `${claimSentence(String(claim), { status: 'impossible', because: String(because) })}${instead === '' ? '' : ` Did you mean ${instead}?`}`,
  check: (reading) => claimProblems(reading, 'impossible'),
  looksFar: ({ claims }) => claims.length > 0,
};
