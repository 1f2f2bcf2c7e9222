/** Every kind of claim there is. To add one, write its file and give it a row here; a test asks for its row in LANGUAGE and its form in the list that an editor shows. */
import { chordTones } from './chord-tones';
import type { ClaimKind } from './claim';
import { device } from './devices';
import { lands } from './lands';
import { noClash } from './no-clash';
import { range } from './range';
import { resolves } from './resolves';
import { diatonic, inScale } from './scales';

interface Row {
  /** The words that begin it. */
  readonly begins: string;
  readonly check: ClaimKind;
}

const NAMED: readonly Row[] = [
  { begins: 'diatonic', check: diatonic },
  { begins: 'chord-tones', check: chordTones },
  { begins: 'scale', check: inScale },
  { begins: 'lands', check: lands },
  { begins: 'resolves', check: resolves },
  { begins: 'range', check: range },
  { begins: 'no clash', check: noClash },
];

/** Those of a device come last: they begin with its name. */
export const KINDS: readonly ClaimKind[] = [...NAMED.map(({ check }) => check), device];

/** The claims that are no devices, each by the words that begin it. */
export const FIRST_WORDS: readonly string[] = NAMED.map(({ begins }) => begins);
