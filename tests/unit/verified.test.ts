/** The proof of an edit: no problem may come in, nor one in place of another. */
import { expect, test } from 'vitest';
import type { Range } from '../../grammar/tree';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { AssistContext } from '../../server/src/assists/assist';
import { verified, verifiedOnWhole } from '../../server/src/assists/writing/verified';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';

function contextAt(snapshot: Snapshot, selection: Range): AssistContext {
  const placed = snapshot.phrases[0]!;
  const reading = readPhrase(placed.phrase, DEFAULT_THEORY);
  return { snapshot, placed, reading, options: DEFAULT_THEORY, selection, note: 0, selected: [], asked: false };
}

/** Whether writing another text in place of the first note of a phrase is let pass. */
function passes(rows: string, text: string): boolean {
  const snapshot = openSnapshot('file:///a.phrase', 1, `phrase "A"\n  key C major\n${rows}`);
  const { range } = snapshot.phrases[0]!.phrase.notes[0]!;
  const context = contextAt(snapshot, range);
  return verified(context, [{ range, text }], { repaired: null, groups: [0] }) !== null;
}

test('one refuted claim in place of another is a new problem', () => {
  const line = '  over | Cmaj7 |\n  line | E4 G4 B4 C5 |\n';
  expect(passes(`${line}  claim lands 1 at 1.1\n`, 'C4')).toBe(true);
  expect(passes(`${line}  claim lands 1 at 1.1\n  claim lands 3 at 1.1\n`, 'C4')).toBe(false);
  // What was wrong before may stay so.
  expect(passes(`${line}  claim lands 1 at 1.1\n`, 'G4')).toBe(true);
});

test('one clash in place of another, and one error of the writing for another, are new problems', () => {
  expect(passes('  over | Cmaj7 |\n  line | F4 A4 C5 A4 |\n', 'E4')).toBe(true);
  expect(passes('  over | Cmaj7 |\n  line | F4 A4 C5 A4 |\n', 'Eb4')).toBe(false);
  const broken = '  over | Cmaj7 | C7 |\n  line | E4 G4 B4 C5 | x? . . . |\n';
  expect(passes(broken, 'G4')).toBe(true);
  expect(passes(broken, 'y?')).toBe(false);
});

test('what a run of half steps leads to is seen from its other end, however many bars away', () => {
  const text = 'phrase "A"\n  key C major\n  meter 2/4\n  over | C5 |\n  line | C5 G | C G | C G4 | Ab4 A | Bb! B | C G | C G | C G |\n';
  const snapshot = openSnapshot('file:///a.phrase', 1, text);
  const { groups } = snapshot.phrases[0]!.phrase;
  const group = groups.findIndex(({ bar, index }) => bar === 6 && index === 0);
  const { range } = groups[group]!;
  const context = contextAt(snapshot, range);
  const wanted = { repaired: null, groups: [group] };
  // The Ab of bar 4 goes on to C; without it the run leads nowhere.
  expect(verifiedOnWhole(context, [{ range, text: 'A' }], wanted)).toBeNull();
  expect(verified(context, [{ range, text: 'A' }], wanted)).toBeNull();
  expect(verified(context, [{ range, text: '(C)' }], wanted)).not.toBeNull();
});
