import type { RuleDoc } from '../rule';

export const joinedFigures: RuleDoc = {
  id: 'joined-figures',
  severity: 'error',
  what: 'Several degrees are written as one number.',
  why: 'Each slot holds one note; without hyphens the figures are one unreadable number.',
  example: 'phrase "A"\n  over | C |\n  line | 1235 |\n',
  instead: 'phrase "A"\n  over | C |\n  line | 1-2-3-5 |\n',
  fix: 'Put hyphens between the figures.',
  message: (facts) => `${facts['figures']} is no degree. For notes in one beat write ${facts['joined']}.`,
};
