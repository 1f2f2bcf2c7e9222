import type { RuleDoc } from '../rule';

export const unknownChord: RuleDoc = {
  id: 'unknown-chord',
  severity: 'error',
  what: 'A chord symbol cannot be read.',
  why: 'Notes over it cannot be judged.',
  example: 'phrase "A"\n  over | Cmja7 |\n',
  instead: 'phrase "A"\n  over | Cmaj7 |\n',
  fix: 'Write one of the suggested symbols.',
  message: (facts) => `“${facts['symbol']}” is no chord: ${facts['why']}.${facts['suggestions'] === '' ? '' : ` Did you mean ${facts['suggestions']}?`}`,
};
