import type { RuleDoc } from '../rule';

export const markOnCell: RuleDoc = {
  id: 'mark-on-cell',
  severity: 'error',
  what: 'A cell has marks or hyphens on it.',
  why: 'A cell stands alone as whole beat groups; marks belong to single notes.',
  example: 'cell climb = 1 2\nphrase "A"\n  over | C |\n  line | climb! 3 5 |\n',
  instead: 'cell climb = 1 2\nphrase "A"\n  over | C |\n  line | climb 3 5 |\n',
  fix: 'Write the cell out, and mark its notes.',
  message: (facts) => `The cell ${facts['name']} stands alone; “${facts['extra']}” cannot be joined to it. Write the cell’s notes out to mark them.`,
};
