import type { RuleDoc } from '../rule';

export const unknownPart: RuleDoc = {
  id: 'unknown-part',
  severity: 'error',
  what: 'A part is not known.',
  why: 'Range and transposition are those of a concert part instead.',
  example: 'phrase "A"\n  part trumpt\n',
  instead: 'phrase "A"\n  part trumpet\n',
  fix: 'Write one of the suggested parts.',
  message: (facts) => `“${facts['name']}” is no part known here.${facts['suggestions'] === '' ? ' Write one such as trumpet or tenor-sax.' : ` Did you mean ${facts['suggestions']}?`}`,
};
