/** Every claim of a phrase, proved or refuted. */
import { guarded } from '../../model/faults';
import type { Reading } from '../types';
import { chordTones } from './chord-tones';
import { impossible, type Answer, type Claim, type ClaimKind } from './claim';
import { device, nearestDevices } from './devices';
import { lands } from './lands';
import { noClash } from './no-clash';
import { range } from './range';
import { resolves } from './resolves';
import { diatonic, inScale } from './scales';

/** Every kind of claim there is. To add one, write its file and name it here. */
const KINDS: readonly ClaimKind[] = [diatonic, chordTones, inScale, lands, resolves, range, noClash, device];
const FIRST_WORDS = ['diatonic', 'chord-tones', 'scale', 'lands', 'resolves', 'range', 'no clash'];

export interface CheckedClaim extends Answer {
  readonly claim: Claim;
}

export function checkClaims(reading: Reading): readonly CheckedClaim[] {
  return reading.phrase.claims.filter(({ words }) => words.length > 0).map((claim) => ({ claim, ...guarded(`the claim “${claim.text}”`, UNCHECKED, () => checkWords(claim.words.map((word) => word.text), reading)) }));
}

const UNCHECKED: Answer = { status: 'unchecked', because: 'a fault of Phrasewright keeps it from being checked', note: null, instead: [] };

/** What a phrase answers to a claim's words. */
export function checkWords(words: readonly string[], reading: Reading): Answer {
  for (const kind of KINDS) {
    const answer = kind(words, reading);
    if (answer !== null) return answer;
  }
  const [first] = words;
  const near = nearestDevices(first!);
  const known = FIRST_WORDS.filter((word) => word[0] === first![0]);
  return impossible('there is no claim of that kind', [...near, ...known].slice(0, 3));
}
