import type { RuleDoc } from '../rule';

export const barLength: RuleDoc = {
  id: 'bar-length',
  severity: 'error',
  what: 'The beat groups of a bar do not add up to its meter.',
  why: 'A bar keeps its length, so notes are cut off or silence follows.',
  example: 'phrase "A"\n  line | C4 D E F G |\n',
  instead: 'phrase "A"\n  line | C4 D E F-G |\n',
  fix: 'Join groups with hyphens, weigh them, or fill the bar with rests.',
  message: (facts) => `Bar ${facts['bar']} holds ${facts['holds']} beats in ${facts['meter']}, and ${facts['written']} ${facts['written'] === '1' ? 'is' : 'are'} written. ${facts['short'] === 'yes' ? 'Fill it with rests, or give a group a weight such as 2:.' : 'Join two with a hyphen, or move one into the next bar.'}`,
};
