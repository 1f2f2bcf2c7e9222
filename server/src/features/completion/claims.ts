/** How claims begin: the kinds that the server can prove, then the devices. */
import { DEVICE_KINDS } from '../../analysis/devices/device';
import type { Proposal, RowBefore } from './completion';

const CLAIMS = [
  ['diatonic', 'every note is in the key'],
  ['chord-tones', 'all notes, or “at least 60%”'],
  ['scale', 'every note is in the scale: scale G mixolydian'],
  ['arpeggio', 'arpeggio of Dm7'],
  ['enclosure', 'enclosure of 3 at 2.1'],
  ['resolves', 'resolves 7 to 3'],
  ['lands', 'lands 3 at 2.1'],
  ['range', 'range C4 to A5'],
  ['no clash', 'nothing clashes'],
] as const;

/** Only the first word is offered: what follows it is a place or a note of the phrase. */
export function claimWords({ before }: RowBefore): readonly Proposal[] {
  if (before.trim() !== '') return [];
  const begun = new Set<string>(CLAIMS.map(([claim]) => claim));
  return [
    ...CLAIMS.map(([label, detail]): Proposal => ({ label, kind: 'value', detail })),
    ...DEVICE_KINDS.filter((kind) => !begun.has(kind)).map((label): Proposal => ({ label, kind: 'value', detail: 'the phrase has one' })),
  ];
}
