import type { RuleDoc } from '../rule';

export const unknownScale: RuleDoc = {
  id: 'unknown-scale',
  severity: 'error',
  what: 'The scale stated after a chord is not known.',
  why: 'The inferred scale is used instead.',
  example: 'phrase "A"\n  over | C7:lidian |\n',
  instead: 'phrase "A"\n  over | C7:lydian |\n',
  fix: 'Write one of the suggested scales.',
  message: (facts) => `${facts['name'] === '' ? 'No scale follows the colon.' : `“${facts['name']}” is no scale known here.`}${facts['suggestions'] === '' ? ' Write one such as dorian or lydian-dominant.' : ` Did you mean ${facts['suggestions']}?`}`,
};
