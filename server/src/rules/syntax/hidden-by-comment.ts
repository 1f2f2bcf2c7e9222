import type { RuleDoc } from '../rule';

export const hiddenByComment: RuleDoc = {
  id: 'hidden-by-comment',
  severity: 'warning',
  what: 'A comment hides what looks like music.',
  why: '`//` starts a comment; two slashes that repeat a chord need a space between them.',
  example: 'phrase "A"\n  over | C7 // F7\n',
  instead: 'phrase "A"\n  over | C7 / / F7 |\n',
  fix: 'Put a space between the slashes.',
  message: (facts) => `“${facts['hidden']}” is hidden by a comment. If the slashes repeat the chord, write / / with a space.`,
};
