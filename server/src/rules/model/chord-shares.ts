import type { RuleDoc } from '../rule';

export const chordShares: RuleDoc = {
  id: 'chord-shares',
  severity: 'error',
  what: 'The chords of a bar cannot share it on its beats or half beats.',
  why: 'Nobody could say where each chord comes in.',
  example: 'phrase "A"\n  over | Cm7 F7 G7 |\n',
  instead: 'phrase "A"\n  over | Cm7 / F7 G7 |\n',
  fix: 'Place the chords with slashes, one share each.',
  message: (facts) => `${facts['chords']} chords cannot share ${facts['beats']} beats equally. Place them with slashes.`,
};
