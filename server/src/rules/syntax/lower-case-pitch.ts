import type { RuleDoc } from '../rule';

export const lowerCasePitch: RuleDoc = {
  id: 'lower-case-pitch',
  severity: 'error',
  what: 'Pitches of a row are written with small letters.',
  why: 'Small letters begin the names of cells; a flat sign would be mistaken for a note.',
  example: 'phrase "A"\n  line | c4 D E F |\n',
  instead: 'phrase "A"\n  line | C4 D E F |\n',
  fix: 'Write the row in capitals.',
  message: (facts) => `Pitches are capital letters. Write ${facts['capital']}${facts['more'] === 0 ? '' : ` and ${facts['more']} more in capitals`}.`,
};
