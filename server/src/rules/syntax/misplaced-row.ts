import type { RuleDoc } from '../rule';

export const misplacedRow: RuleDoc = {
  id: 'misplaced-row',
  severity: 'error',
  what: 'A row stands where it does not belong: before the first phrase, or in a block that does not take it.',
  why: 'It belongs to no phrase, so nothing uses it.',
  example: 'key C major\n',
  instead: 'phrase "A"\n  key C major\n',
  fix: 'Move the row into the phrase it is meant for.',
  message: (facts) => `A “${facts['word']}” row does not belong here. Move it into the phrase it is meant for.`,
};
