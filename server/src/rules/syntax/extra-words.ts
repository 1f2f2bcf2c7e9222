import type { RuleDoc } from '../rule';

export const extraWords: RuleDoc = {
  id: 'extra-words',
  severity: 'error',
  what: 'There are words beside the text in quotes.',
  why: 'They are not read.',
  example: 'phrase "A"\n  say "Breathe." twice\n',
  instead: 'phrase "A"\n  say "Breathe twice."\n',
  fix: 'Put them into the quotes, or take them away.',
  message: (facts) => `“${facts['words']}” stands outside the quotes and is not read. Put it inside, or take it away.`,
};
