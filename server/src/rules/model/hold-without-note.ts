import type { RuleDoc } from '../rule';

export const holdWithoutNote: RuleDoc = {
  id: 'hold-without-note',
  severity: 'error',
  what: 'A ~ has no note before it to hold.',
  why: 'There is nothing to hold after a rest or at the start.',
  example: 'phrase "A"\n  line | ~ C4 D E |\n',
  instead: 'phrase "A"\n  line | . C4 D E |\n',
  fix: 'Write a rest.',
  message: () => '~ holds the note before it, and there is none. Write a rest ( . ) instead.',
};
