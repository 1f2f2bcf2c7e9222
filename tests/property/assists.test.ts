/** Every code action, on random phrases: bars stay whole, other notes stay, a repair mends its finding and adds none. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { ASSISTS, offersAt, type PlacedOffer } from '../../server/src/assists/registry';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import type { Phrase } from '../../server/src/model/types';
import { findingsOf } from '../../server/src/rules/findings';
import { phraseArbitrary, plainPhraseArbitrary, RUN } from './arbitrary';

const URI = 'file:///a.phrase';

function applied(text: string, offer: PlacedOffer): string {
  return [...offer.edits].sort((a, b) => b.start - a.start).reduce((result, edit) => result.slice(0, edit.start) + edit.text + result.slice(edit.end), text);
}

/** Actions that change how a phrase is written and nothing that sounds. */
const SOUND_STAYS = new Set(['line-in-degrees', 'line-in-pitches', 'chords-in-numerals', 'numerals-in-chords', 'write-degrees', 'write-claims', 'write-walkthrough', 'mark-intended']);

/** The rules of warnings and errors, in one phrase or in the whole file. */
function severe(snapshot: Snapshot, phrase: number | null = null): string[] {
  const placed = phrase === null ? null : snapshot.phrases[phrase]!;
  const inside = (start: number): boolean => placed === null || (start >= placed.start && start < placed.start + placed.phrase.text.length);
  return findingsOf(snapshot, DEFAULT_THEORY).filter(({ start }) => inside(start)).filter(({ severity }) => severity === 'error' || severity === 'warning').map(({ rule }) => rule).sort();
}

function barLengths(phrase: Phrase): string[] {
  return phrase.bars.filter((bar) => bar.number > 0).map((bar) => bar.length.toFraction());
}

test('every code action leaves bars whole, keeps what stands outside the edit, and a repair repairs', () => {
  const counts = new Map(ASSISTS.map(({ id }) => [id, 0]));
  fc.assert(
    fc.property(fc.oneof(phraseArbitrary, plainPhraseArbitrary), fc.nat(), ({ text }, pick) => {
      const snapshot = openSnapshot(URI, 1, text);
      const { phrase } = snapshot.phrases[0]!;
      const flagged = readPhrase(phrase, DEFAULT_THEORY).notes.filter(({ verdict }) => verdict !== null && verdict.level !== 'hint');
      const candidates = pick % 3 === 0 || flagged.length === 0 ? phrase.notes.map(({ index }) => index) : flagged.map(({ note }) => note);
      if (candidates.length === 0) return;
      const note = phrase.notes[candidates[pick % candidates.length]!]!;
      const fail = (error: unknown): never => {
        throw error;
      };
      const keywords = phrase.item.rows.filter(({ kind }) => kind === 'line' || kind === 'over').map(({ keyword }) => keyword.range.start);
      const offers = [note.range.start, 2, ...keywords].flatMap((at) => offersAt(snapshot, at, at, DEFAULT_THEORY, fail));
      for (const offer of offers) {
        counts.set(offer.assist, counts.get(offer.assist)! + 1);
        const after = openSnapshot(URI, 2, applied(text, offer));
        const changed = after.phrases[0]!.phrase;
        expect(barLengths(changed)).toEqual(barLengths(phrase));
        expect(after.problems.filter(({ problem }) => problem.severity === 'error')).toEqual([]);
        if (offer.assist === 'twelve-keys') {
          const rules = after.phrases.map((_, i) => severe(after, i).filter((rule) => rule !== 'out-of-range'));
          expect(rules).toEqual(Array.from({ length: 12 }, () => severe(snapshot, 0).filter((rule) => rule !== 'out-of-range')));
          continue;
        }
        expect(severe(after).length).toBeLessThanOrEqual(severe(snapshot).length);
        if (SOUND_STAYS.has(offer.assist)) expect(changed.notes.map(({ midi }) => midi)).toEqual(phrase.notes.map(({ midi }) => midi));
        const untouched = phrase.notes.filter((one) => offer.edits.every((edit) => edit.end <= one.range.start || edit.start >= one.range.end));
        const sounding = new Set(changed.notes.map((one) => `${one.onset.toFraction()} ${one.midi}`));
        for (const one of untouched) expect(sounding.has(`${one.onset.toFraction()} ${one.midi}`), `${one.bar}:${one.beat} stays`).toBe(true);
        if (offer.repairs === 'clash') expect(severe(after).filter((rule) => rule === 'clash').length).toBeLessThan(severe(snapshot).filter((rule) => rule === 'clash').length);
      }
    }),
    { ...RUN, numRuns: 1000 },
  );
  console.log(`cases: ${[...counts].map(([id, count]) => `${id} ${count}`).join(', ')}`);
  for (const [id, count] of counts) expect(count, `${id} was offered`).toBeGreaterThan(15);
});
