import type { RuleDoc } from '../rule';

export const cellInCell: RuleDoc = {
  id: 'cell-in-cell',
  severity: 'error',
  what: 'A cell uses another cell.',
  why: 'A cell is written in notes and degrees only.',
  example: 'cell one = 1 2\ncell both = one one\n',
  instead: 'cell one = 1 2\ncell both = 1 2 1 2\n',
  fix: 'Write the inner cell out.',
  message: (facts) => `A cell cannot use the cell ${facts['name']}. Write its notes out.`,
};
