import type { RuleDoc } from '../rule';

export const strayBarLine: RuleDoc = {
  id: 'stray-bar-line',
  severity: 'error',
  what: 'A row starts with a bar line, and no row above it goes on.',
  why: 'It belongs to no line and to no chords.',
  example: '| C7 |\n',
  instead: 'phrase "A"\n  over | C7 |\n',
  fix: 'Write over or line before it.',
  message: () => 'This bar line continues no row. Write over or line before it.',
};
