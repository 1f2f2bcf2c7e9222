import type { RuleDoc } from '../rule';

export const changeOffTheBeat: RuleDoc = {
  id: 'change-off-the-beat',
  severity: 'information',
  what: 'Chords share a bar so that a change falls off the beat.',
  why: 'It may be meant, but usually a change on a beat is.',
  example: 'phrase "A"\n  meter 5/4\n  over | Cm7 F7 |\n',
  instead: 'phrase "A"\n  meter 5/4\n  over | Cm7 / / F7 / |\n',
  fix: 'Place the chords with slashes.',
  message: (facts) => `${facts['chords']} chords in ${facts['beats']} beats change off the beat. Place them with slashes if you mean a beat.`,
};
