/** The table of rows, against what is written by hand elsewhere: the colours of the text and the reference of the language. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseSlice } from '../../grammar/parser';
import { ROW_WORDS, rowWord } from '../../grammar/rows';
import { isMusicRow } from '../../grammar/systems';
import { tokenize } from '../../grammar/tokens';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { completionsAt, opensAtBlank } from '../../server/src/features/completion/index';
import { openSnapshot } from '../../server/src/model/snapshot';

const read = (...path: string[]): string => readFileSync(join(import.meta.dirname, '..', '..', ...path), 'utf8');
const SAMPLE = { notes: 'C4 D', chords: '| C |', words: '"x"' };

test.each(ROW_WORDS.map((row) => [row.word, row] as const))('%s is coloured, explained, and read in its mode', (word, { mode }) => {
  const begins = [...read('grammar', 'phrase.tmLanguage.json').matchAll(/"(?:begin|match)": "\^\\\\s\*([^"]*)"/g)].map(
    ([, pattern]) => new RegExp(`^${pattern!.replaceAll('\\\\', '\\')}`),
  );
  expect([`${word} `, `${word} turn = `].some((text) => begins.some((pattern) => pattern.test(text)))).toBe(true);
  expect(read('grammar', 'LANGUAGE.md')).toMatch(new RegExp(`\`${word}\\b`));
  const [first] = tokenize(`${word} ${SAMPLE[mode]}`).tokens;
  expect(first!.tokenType.name.toLowerCase()).toBe(`${mode}keyword`);
});

test('a row stands where the table lets it, and nowhere else', () => {
  for (const { word, mode, within } of ROW_WORDS.filter((row) => !(row.within as readonly string[]).includes('file'))) {
    for (const item of ['lesson', 'phrase'] as const) {
      const { problems } = parseSlice(`${item} "A"\n  ${word} ${SAMPLE[mode]}\n`);
      expect(
        problems.some(({ rule }) => rule === 'misplaced-row'),
        `${word} in ${item}`,
      ).toBe(!(within as readonly string[]).includes(item));
    }
  }
});

test('of a row that may stand once the last counts, and the others are told', () => {
  const text = { key: 'C major', tempo: '120', part: 'trumpet', level: '2', tag: '"x"' };
  for (const [word, value] of Object.entries(text)) {
    expect(rowWord(word)?.once).toBe(true);
    expect(parseSlice(`phrase "A"\n  ${word} ${value}\n  ${word} ${value}\n`).problems.map(({ rule }) => rule)).toContain(
      'repeated-property',
    );
  }
  expect(parseSlice('phrase "A"\n  say "a"\n  say "b"\n').problems).toEqual([]);
});

test('what is read between bar lines is music', () => {
  const { item } = parseSlice('phrase "A"\n  key C major\n  over | C |\n  line | C4 D E F |\n  degrees | 1 2 3 4 |\n  say "x"\n');
  expect(item.kind === 'phrase' && item.rows.filter(isMusicRow).map(({ kind }) => kind)).toEqual(['over', 'line', 'degrees']);
});

test('where the table says so, there is something to choose right behind the word of a row', () => {
  for (const { word, within } of ROW_WORDS.filter(({ choice }) => choice)) {
    const text = `${(within as readonly string[]).includes('phrase') ? 'phrase' : 'lesson'} "A"\n  ${word} `;
    const snapshot = openSnapshot('', 1, `changes turn = | C7 |\n\n${text}`);
    expect(completionsAt(snapshot, snapshot.text.length, DEFAULT_THEORY).length, word).toBeGreaterThan(0);
    expect(opensAtBlank(snapshot, snapshot.text.length), word).toBe(true);
  }
});
