import type { RuleDoc } from '../rule';

export const repeatOfNothing: RuleDoc = {
  id: 'repeat-of-nothing',
  severity: 'error',
  what: 'A / or % has nothing before it to repeat.',
  why: 'No chord can sound there.',
  example: 'phrase "A"\n  over | / C7 |\n',
  instead: 'phrase "A"\n  over | C7 / |\n',
  fix: 'Write a chord, or N.C.',
  message: (facts) => `${facts['sign']} repeats what stands before it, and nothing does. Write a chord, or N.C.`,
};
