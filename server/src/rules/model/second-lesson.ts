import type { RuleDoc } from '../rule';

export const secondLesson: RuleDoc = {
  id: 'second-lesson',
  severity: 'error',
  what: 'A file has a second lesson.',
  why: 'A file is one lesson.',
  example: 'lesson "A"\nlesson "B"\n',
  instead: 'lesson "A"\n',
  fix: 'Move it into a file of its own.',
  message: () => 'A file is one lesson, and this is the second. Move it into a file of its own.',
};
