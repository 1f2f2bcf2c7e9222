/** The samples are what a writer learns from: nothing is found in them, and they are formatted. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

const FOLDER = join(import.meta.dirname, '..', '..', 'samples');
const SAMPLES = readdirSync(FOLDER)
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => ({ file, text: readFileSync(join(FOLDER, file), 'utf8') }));

test.each(SAMPLES)('$file has no findings, in either profile', ({ text }) => {
  expect(findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY)).toEqual([]);
  const severe = findingsOf(openSnapshot('file:///a.phrase', 1, text), { ...DEFAULT_THEORY, profile: 'harmonic' }).filter(
    ({ severity }) => severity === 'error',
  );
  expect(severe).toEqual([]);
});

test.each(SAMPLES)('$file is formatted', ({ text }) => {
  expect(formatText(text)).toBe(text);
});

/** The kinds of lesson that a teacher writes, each with a sample; the lanterns are a tour of all. */
const KINDS = ['first-two-five-one', 'minor-lines', 'blues-lines', 'waltz-for-tenor', 'modal-vamps', 'etudes-from-a-cell'];

test.each(KINDS)('%s is a lesson with a title, an about row, and four phrases or more, each with a level and a text', (kind) => {
  const { slices, phrases } = openSnapshot('file:///a.phrase', 1, SAMPLES.find(({ file }) => file === `${kind}.phrase`)!.text);
  const lesson = slices.map(({ parsed: { item } }) => item).find((item) => item.kind === 'lesson');
  expect(lesson?.kind === 'lesson' && lesson.rows.some((row) => row.kind === 'about')).toBe(true);
  expect(phrases.length).toBeGreaterThanOrEqual(4);
  for (const { phrase } of phrases) {
    expect(phrase.level, phrase.name).not.toBeNull();
    expect(phrase.says.length, phrase.name).toBeGreaterThan(0);
    expect(phrase.notes.length, phrase.name).toBeGreaterThanOrEqual(5);
  }
});

test('the lesson has ten phrases, from level 1 to level 5', () => {
  const { phrases } = openSnapshot('file:///a.phrase', 1, SAMPLES.find(({ file }) => file.startsWith('lanterns'))!.text);
  const levels = phrases.map(({ phrase }) => phrase.level!);
  expect(phrases.length).toBe(10);
  expect(levels).toEqual([...levels].sort((a, b) => a - b));
  expect(new Set(levels)).toEqual(new Set([1, 2, 3, 4, 5]));
});
