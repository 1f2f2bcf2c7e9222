import type { RuleDoc } from '../rule';

export const fileTooLong: RuleDoc = {
  id: 'file-too-long',
  severity: 'error',
  what: 'A file is too long to be analysed.',
  why: 'Live feedback on it would lag behind your typing.',
  example: '',
  instead: '',
  fix: 'Split it into several lessons.',
  message: (facts) => `This file has ${facts['characters']} characters; at most ${facts['limit']} are analysed. Split it into several lessons.`,
};
