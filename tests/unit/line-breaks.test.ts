/** Whichever line breaks part the lines of a file, the same is found and written. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { offersAt } from '../../server/src/assists/registry';
import { folds } from '../../server/src/features/folding';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf } from '../../server/src/rules/findings';

const TEXT = `lesson "L"

changes turn = | Dm7 G7 |

// Of the phrase below.
// It has two lines.
phrase "A"
  key   C major
  over  | Dm7 G7 | Cmaj7 |
  // Up and
  // down.
  line  | F4-A C-E D-B G-F |
        | E ~ ~ .          | // The third.
  claim lands 5 at 2.1
  claim no clash
`;

const opened = (text: string): Snapshot => openSnapshot('file:///a.phrase', 1, text);
const fail = (error: unknown): never => {
  throw error;
};
const plain = (text: string): string => text.replace(/\r\n|\r/g, '\n');

/** What comes of an action, at the first place of some words. */
function done(text: string, at: string, assist: string): string {
  const start = text.indexOf(at) + 2;
  const offer = offersAt(opened(text), { start, end: start, only: null }, DEFAULT_THEORY, fail).find((one) => one.assist === assist);
  return offer === undefined ? 'nothing' : plain(applyPlaced(text, offer.edits()));
}

test.each([['\r\n'], ['\r']])('%j does as much as \\n', (lineBreak) => {
  const text = TEXT.replaceAll('\n', lineBreak);
  const removed = (of: string): string[] =>
    findingsOf(opened(of), DEFAULT_THEORY).flatMap(({ fixes }) =>
      fixes.filter(({ title }) => title === 'Remove the claim').map(({ edits }) => plain(applyPlaced(of, edits))),
    );
  expect(removed(TEXT)).toEqual([TEXT.replace('  claim lands 5 at 2.1\n', '')]);
  expect(removed(text)).toEqual(removed(TEXT));
  const folded = (of: string): string[] => folds(opened(of)).map(({ start, end, kind }) => `${kind} ${plain(of.slice(start, end)).trim()}`);
  expect(folded(TEXT).filter((fold) => fold.startsWith('comment'))).toHaveLength(2);
  expect(folded(text)).toEqual(folded(TEXT));
  for (const [at, assist] of [
    ['phrase "', 'write-degrees'],
    ['phrase "', 'write-claims'],
    ['phrase "', 'write-walkthrough'],
    ['phrase "', 'twelve-keys'],
    ['over', 'extract-changes'],
    ['over', 'chords-in-numerals'],
  ] as const) {
    expect(done(TEXT, at, assist), assist).not.toBe('nothing');
    expect(done(text, at, assist), assist).toBe(done(TEXT, at, assist));
  }
});
