import type { RuleDoc } from '../rule';

export const unknownKeyword: RuleDoc = {
  id: 'unknown-keyword',
  severity: 'error',
  what: 'A row starts with a word that is no keyword.',
  why: 'The row is not read, so what it says is lost.',
  example: 'phrase "A"\n  lyne | C4 D E F |\n',
  instead: 'phrase "A"\n  line | C4 D E F |\n',
  fix: 'Write one of the suggested keywords.',
  message: (facts) => `“${facts['word']}” starts no row.${facts['suggestions'] === '' ? ' A row starts with a keyword such as over, line, key or say.' : ` Did you mean ${facts['suggestions']}?`}`,
};
