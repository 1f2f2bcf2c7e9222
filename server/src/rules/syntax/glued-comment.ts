import type { RuleDoc } from '../rule';

export const gluedComment: RuleDoc = {
  id: 'glued-comment',
  severity: 'error',
  what: 'A comment is glued to other text.',
  why: 'A comment starts at the start of a line or after white space.',
  example: 'phrase "A"\n  line | C4 D E F//end\n',
  instead: 'phrase "A"\n  line | C4 D E F // end\n',
  fix: 'Put a space before the comment.',
  message: () => 'A comment needs a space before its //.',
};
