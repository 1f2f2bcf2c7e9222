import type { RuleDoc } from '../rule';

export const badPart: RuleDoc = {
  id: 'bad-part',
  severity: 'error',
  what: 'A part row names no part.',
  why: 'The part decides range and transposition.',
  example: 'phrase "A"\n  part\n',
  instead: 'phrase "A"\n  part trumpet\n',
  fix: 'Write one part, such as tenor-sax.',
  message: () => 'A part row names a part, such as trumpet or tenor-sax.',
};
