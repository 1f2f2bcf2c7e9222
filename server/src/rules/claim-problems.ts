/** Claims as problems: the claim, the note that breaks it, and the claims that would hold. */
import { lineStart, nextLine } from '../../../grammar/lines';
import type { Fix, Problem } from '../../../grammar/tree';
import { checkClaims, type CheckedClaim } from '../analysis/claims/check';
import type { Reading } from '../analysis/types';

export function claimProblems(reading: Reading, status: 'refuted' | 'impossible'): Problem[] {
  return checkClaims(reading)
    .filter((checked) => checked.status === status)
    .map((checked) => ({
      rule: status === 'refuted' ? 'claim-refuted' : 'claim-impossible',
      severity: status === 'refuted' ? 'warning' : 'error',
      range: checked.claim.range,
      facts: { claim: checked.claim.text, because: checked.because, instead: checked.instead.join(', ') },
      fixes: [...corrections(checked), removal(checked, reading.phrase.text)],
      related:
        checked.note === null ? [] : [{ range: reading.phrase.notes[checked.note]!.range, text: 'This is the first note that breaks it.' }],
    }));
}

function corrections({ claim, instead }: CheckedClaim): Fix[] {
  const range = { start: claim.words[0]!.range.start, end: claim.words[claim.words.length - 1]!.range.end };
  return instead.slice(0, 3).map((text) => ({ title: `Claim instead: ${text}`, safe: false, edits: [{ range, text }] }));
}

/** Takes the whole line away. */
function removal({ claim }: CheckedClaim, text: string): Fix {
  return {
    title: 'Remove the claim',
    safe: false,
    edits: [{ range: { start: lineStart(text, claim.range.start), end: nextLine(text, claim.range.end) }, text: '' }],
  };
}
