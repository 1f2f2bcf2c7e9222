import type { RuleDoc } from '../rule';

export const cellBarLine: RuleDoc = {
  id: 'cell-bar-line',
  severity: 'error',
  what: 'A cell holds a bar line.',
  why: 'A cell is shorter than a bar and must fit into any.',
  example: 'cell climb = 1 2 | 3 5\n',
  instead: 'cell climb = 1 2 3 5\n',
  fix: 'Take the bar line away.',
  message: () => 'A cell holds no bar line. Take it away.',
};
