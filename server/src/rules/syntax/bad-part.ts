import type { RuleDoc } from '../rule';

export const badPart: RuleDoc = {
  id: 'bad-part',
  severity: 'error',
  what: 'A part row does not hold exactly one part.',
  why: 'The part decides range and transposition.',
  example: 'phrase "A"\n  part\n',
  instead: 'phrase "A"\n  part trumpet\n',
  fix: 'Write one part, such as tenor-sax.',
  message: () => 'A part row holds one part, such as trumpet or tenor-sax.',
};
