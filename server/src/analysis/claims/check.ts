/** Every claim of a phrase, proved or refuted. */
import { guarded } from '../../model/faults';
import type { Reading } from '../types';
import { impossible, type Answer, type Claim } from './claim';
import { KINDS } from './kinds';
import { KNOWN_CLAIMS, nearClaims } from './near-claims';

export interface CheckedClaim extends Answer {
  readonly claim: Claim;
}

export function checkClaims(reading: Reading): readonly CheckedClaim[] {
  return reading.phrase.claims
    .filter(({ words }) => words.length > 0)
    .map((claim) => ({
      claim,
      ...guarded(`the claim “${claim.text}”`, UNCHECKED, () =>
        checkWords(
          claim.words.map((word) => word.text),
          reading,
        ),
      ),
    }));
}

const UNCHECKED: Answer = { status: 'unchecked', because: 'a fault of Phrasewright keeps it from being checked', note: null, instead: [] };

/** What a phrase answers to a claim's words. */
export function checkWords(words: readonly string[], reading: Reading): Answer {
  for (const kind of KINDS) {
    const answer = kind(words, reading);
    if (answer !== null) return answer;
  }
  const near = nearClaims(words, reading);
  return impossible(`there is no claim of that kind${near.length === 0 ? `; there are ${KNOWN_CLAIMS}` : ''}`, near.slice(0, 3));
}
