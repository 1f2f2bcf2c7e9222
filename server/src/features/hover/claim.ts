/** The hover of a claim: whether it holds and on which notes, and what would hold in its place. */
import { checkClaims } from '../../analysis/claims/check';
import type { Claim } from '../../analysis/claims/claim';
import type { Reading } from '../../analysis/types';
import { guarded } from '../../model/faults';
import { claimStatus } from '../../rules/claim-words';
import { capital } from '../../rules/words';
import { codeWord, escapeMarkdown } from './words';

/** Markdown; empty for a row without words. */
export function claimHover(reading: Reading, claim: Claim): string {
  const checked = guarded('whether a claim holds', undefined, () => checkClaims(reading).find((one) => one.claim === claim));
  if (checked === undefined) return '';
  const { status, because, instead } = checked;
  const answer = `**${capital(claimStatus(status))}**: ${escapeMarkdown(because)}.`;
  return instead.length === 0
    ? answer
    : `${answer}\n\n${status === 'refuted' ? 'This would hold' : 'Did you mean'}: ${instead.slice(0, 3).map(codeWord).join(', ')}${status === 'refuted' ? '.' : '?'}`;
}
