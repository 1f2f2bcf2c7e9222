import type { RuleDoc } from '../rule';

export const looseHyphen: RuleDoc = {
  id: 'loose-hyphen',
  severity: 'error',
  what: 'A hyphen has no slot on one of its sides.',
  why: 'A hyphen joins the slots of one beat group, so it needs one on both sides.',
  example: 'phrase "A"\n  line | C4- D E F |\n',
  instead: 'phrase "A"\n  line | C4-D E F G |\n',
  fix: 'Take the hyphen away, or write the missing slot.',
  message: () => 'A hyphen joins two slots of a beat, and one is missing here. Write it, or take the hyphen away.',
};
