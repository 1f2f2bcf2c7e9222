import type { RuleDoc } from '../rule';

export const keyWithoutMode: RuleDoc = {
  id: 'key-without-mode',
  severity: 'hint',
  what: 'A key is written without major or minor.',
  why: 'It is read as major; a reader may take it for either.',
  example: 'phrase "A"\n  key Bb\n',
  instead: 'phrase "A"\n  key Bb major\n',
  fix: 'Write major or minor after the tonic.',
  message: (facts) => `${facts['tonic']} alone is read as ${facts['tonic']} major. Write major or minor to say which.`,
};
