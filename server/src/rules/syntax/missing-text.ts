import type { RuleDoc } from '../rule';

export const missingText: RuleDoc = {
  id: 'missing-text',
  severity: 'error',
  what: 'A row lacks what it is for.',
  why: 'The row says nothing.',
  example: 'phrase "A"\n  say\n',
  instead: 'phrase "A"\n  say "Breathe first."\n',
  fix: 'Write it.',
  message: (facts) => `“${facts['word']}” wants ${facts['wants']}.`,
};
