import type { RuleDoc } from '../rule';

export const octaveAndDirection: RuleDoc = {
  id: 'octave-and-direction',
  severity: 'warning',
  what: 'A note has both an octave figure and a direction.',
  why: 'The octave figure already says where the note is; the direction is ignored.',
  example: 'phrase "A"\n  line | C4 /D5 E F |\n',
  instead: 'phrase "A"\n  line | C4 D5 E F |\n',
  fix: 'Take the direction away.',
  message: (facts) => `The octave ${facts['octave']} already says where this note is. Take the ${facts['sign']} away.`,
};
