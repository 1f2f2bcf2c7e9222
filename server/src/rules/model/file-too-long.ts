import type { RuleDoc } from '../rule';

export const fileTooLong: RuleDoc = {
  id: 'file-too-long',
  severity: 'error',
  what: 'A file, or one phrase of it, is too long to be analysed.',
  why: 'Live feedback on it would lag behind your typing.',
  example: '',
  instead: '',
  fix: 'Split it into several lessons, or several phrases.',
  message: (facts) =>
    facts['what'] === 'part'
      ? `What starts here has ${facts['characters']} characters; at most ${facts['limit']} of one phrase are analysed. Split it into several phrases.`
      : `This file has ${facts['characters']} characters; at most ${facts['limit']} are analysed. Split it into several lessons.`,
};
