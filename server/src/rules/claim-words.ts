/** What is said of a claim, in all places the same: `“lands 5 at 2.1” does not hold: E4 there is the 3 of Cmaj7.` */
import type { Answer } from '../analysis/claims/claim';

/** `claim` is what is written, without the keyword. */
export function claimSentence(claim: string, { status, because }: Pick<Answer, 'status' | 'because'>): string {
  const shown = claim.length <= LONGEST_CLAIM ? claim : `${claim.slice(0, LONGEST_CLAIM)} …`;
  return `“${shown}” ${claimStatus(status)}: ${because}.`;
}

/** Whether the findings of a rule are about claims. */
export function isClaimRule(rule: string): boolean {
  return rule === 'claim-refuted' || rule === 'claim-impossible';
}

/** Longer ones are cut. */
const LONGEST_CLAIM = 80;

/** `does not hold`. */
export function claimStatus(status: Answer['status']): string {
  return STATUS[status];
}

const STATUS: Readonly<Record<Answer['status'], string>> = {
  holds: 'holds',
  refuted: 'does not hold',
  impossible: 'cannot be checked',
  unchecked: 'cannot be checked',
};
