import type { RuleDoc } from '../rule';

export const badKey: RuleDoc = {
  id: 'bad-key',
  severity: 'error',
  what: 'A key is not written as TONIC major or TONIC minor.',
  why: 'The key decides spelling, numerals and how chords function.',
  example: 'phrase "A"\n  key Cm\n',
  instead: 'phrase "A"\n  key C minor\n',
  fix: 'Write the tonic as a capital letter, then major or minor.',
  message: (facts) => `A key is a tonic and major or minor, such as ${facts['offered'] === '' ? 'Bb major' : facts['offered']}.`,
};
