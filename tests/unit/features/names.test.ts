/** Definition, uses and renaming of changes and cells. */
import { expect, test } from 'vitest';
import { definitionAt } from '../../../server/src/features/definition';
import { referencesAt } from '../../../server/src/features/references';
import { renameAt } from '../../../server/src/features/rename';
import { findingsOf } from '../../../server/src/rules/findings';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { atCursor, edited, opened } from './cursor';

const FILE = (use: string): string =>
  `changes climb = | C | C |\ncell climb = 1-2 3-5\nphrase "A"\n  over climb\n  line | ${use} climb 5 | 2:/climb |\n`;

test('a cell leads to its definition, not to the changes of the same name', () => {
  const { snapshot, at } = atCursor(FILE('1 cl¦imb').replace(' climb 5', ' 5'));
  const found = definitionAt(snapshot, at)!;
  expect(snapshot.text.slice(0, found.start).endsWith('cell ')).toBe(true);
  expect(definitionAt(snapshot, 3)).toBeNull();
});

test('the uses of a cell are found in every line, weights and directions left out', () => {
  const { snapshot, at } = atCursor(FILE('1').replace('cell cl', 'cell cl¦'));
  expect(referencesAt(snapshot, at).map(({ start, end, defines }) => [snapshot.text.slice(start, end), defines])).toEqual([
    ['climb', true],
    ['climb', false],
    ['climb', false],
  ]);
});

test('a cell is renamed everywhere at once, and the music stays', () => {
  const { snapshot, at } = atCursor(FILE('¦1'));
  const cell = snapshot.text.indexOf('cell climb') + 6;
  const renaming = renameAt(snapshot, cell, 'rise');
  if (!('edits' in renaming)) throw new Error(renaming.refused);
  const text = edited(snapshot.text, renaming.edits);
  expect(text).toBe('changes climb = | C | C |\ncell rise = 1-2 3-5\nphrase "A"\n  over climb\n  line | 1 rise 5 | 2:/rise |\n');
  const sounds = (one: ReturnType<typeof opened>): number[] => one.phrases[0]!.phrase.notes.map(({ midi }) => midi);
  expect(sounds(opened(text))).toEqual(sounds(snapshot));
  expect(findingsOf(opened(text), DEFAULT_THEORY).map(({ rule }) => rule)).toEqual(
    findingsOf(snapshot, DEFAULT_THEORY).map(({ rule }) => rule),
  );
  expect(at).toBeGreaterThan(cell);
});

test.each([
  ['Rise', 'cannot be a name'],
  ['b3', 'cannot be a name'],
  ['eb', 'cannot be a name'],
  ['ii', 'cannot be a name'],
  ['two words', 'cannot be a name'],
  ['', 'cannot be a name'],
  ['fall', 'already a cell named “fall”'],
])('“%s” is refused', (wanted, why) => {
  const { snapshot, at } = atCursor('cell cl¦imb = 1-2\ncell fall = 5-3\n');
  expect(renameAt(snapshot, at, wanted)).toEqual({ refused: expect.stringContaining(why) as string });
});

test('what is no name cannot be renamed', () => {
  const { snapshot, at } = atCursor('phrase "A"\n  line | C¦4 |\n');
  expect(renameAt(snapshot, at, 'rise')).toHaveProperty('refused');
});
