import type { RuleDoc } from '../rule';

export const repeatSign: RuleDoc = {
  id: 'repeat-sign',
  severity: 'error',
  what: 'A repeat sign stands in a row.',
  why: 'A phrase is written out, so that every note has its own place and finding.',
  example: 'phrase "A"\n  over |: C7 :|\n',
  instead: 'phrase "A"\n  over | C7 | C7 |\n',
  fix: 'Write a plain bar line and write the bars out.',
  message: () => `Repeat signs are not read. Write ${'|'} and write the repeated bars out (% repeats a bar of chords).`,
};
