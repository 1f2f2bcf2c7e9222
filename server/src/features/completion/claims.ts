/** Claims that hold of the phrase, with their places: a claim that is taken from the list is never refuted. */
import { holdingClaims } from '../../analysis/claims/holding';
import { readPhrase } from '../../analysis/read';
import type { TheoryOptions } from '../../analysis/types';
import type { Snapshot } from '../../model/snapshot';
import { phraseAt } from '../place';
import type { Proposal, RowBefore } from './completion';
import type { Template } from './template';

/** How claims are written, for a phrase that has no notes yet to claim anything of. */
const FORMS: readonly (readonly [label: string, detail: string, template: Template])[] = [
  ['diatonic', 'every note is in the key', ['diatonic']],
  ['chord-tones', 'every note is a tone of its chord', ['chord-tones']],
  ['chord-tones at least', 'a share of the notes', ['chord-tones at least ', ['60'], '%']],
  ['scale', 'every note is in the scale', ['scale ', ['G'], ' ', ['mixolydian']]],
  ['enclosure', 'notes on both sides of a target', ['enclosure of ', ['3'], ' at ', ['2.1']]],
  ['resolves', 'a degree goes to one of the next chord', ['resolves ', ['7'], ' to ', ['3']]],
  ['lands', 'a degree at a place, bar and beat', ['lands ', ['3'], ' at ', ['2.1']]],
  ['range', 'no note is lower or higher', ['range ', ['C4'], ' to ', ['A5']]],
  ['no clash', 'nothing clashes', ['no clash']],
];

export function claimWords({ before }: RowBefore, snapshot: Snapshot, offset: number, theory: TheoryOptions): readonly Proposal[] {
  const placed = phraseAt(snapshot, offset);
  if (placed === null) return [];
  const { phrase } = placed;
  if (phrase.notes.length === 0)
    return before.trim() === '' ? FORMS.map(([label, detail, template]): Proposal => ({ label, kind: 'template', detail, template })) : [];
  // The row at hand may be a whole claim already; those of the other rows are made.
  const made = new Set(
    phrase.claims.filter(({ range }) => placed.start + range.end < offset || placed.start + range.start > offset).map(({ text }) => text),
  );
  return holdingClaims(readPhrase(phrase, theory))
    .filter((text) => !made.has(text))
    .map((label): Proposal => ({ label, kind: 'value', detail: 'holds' }));
}
