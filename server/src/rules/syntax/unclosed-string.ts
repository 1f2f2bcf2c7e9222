import type { RuleDoc } from '../rule';

export const unclosedString: RuleDoc = {
  id: 'unclosed-string',
  severity: 'error',
  what: 'A text in quotes is not closed before the end of its line.',
  why: 'The rest of the line would be read as part of the text.',
  example: 'phrase "A\n',
  instead: 'phrase "A"\n',
  fix: 'Close the quotes.',
  message: () => 'This text has no closing quote. Close it before the end of the line.',
};
