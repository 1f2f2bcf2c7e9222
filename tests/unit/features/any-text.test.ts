/** No text and no place makes a feature throw; what is offered stays inside the text. (Findings, hovers, hints: `tests/property`.) */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { codeLenses } from '../../../server/src/features/code-lenses';
import { completionsAt } from '../../../server/src/features/completion/index';
import { formatRange } from '../../../server/src/features/format';
import { nameAt } from '../../../server/src/features/names';
import { DEFAULT_SETTINGS } from '../../../server/src/features/options';
import { renameAt } from '../../../server/src/features/rename';
import { scoreAt } from '../../../server/src/features/score/index';
import { documentSymbols, type Symbol } from '../../../server/src/features/symbols';
import { always, junk, RUN } from '../../property/arbitrary';
import { edited, opened } from './cursor';

test('names, completions, the outline and range formatting of any text', () => {
  let names = 0;
  always(
    fc.property(junk, fc.nat(), fc.nat(), (text, pick, other) => {
      const snapshot = opened(text);
      const at = pick % (text.length + 1);
      for (const { start, end } of completionsAt(snapshot, at, DEFAULT_THEORY)) expect(0 <= start && start <= end && end === at).toBe(true);
      const [from, to] = [at, other % (text.length + 1)].sort((a, b) => a - b) as [number, number];
      const once = edited(text, formatRange(snapshot, from, to));
      // Lines that the selection does not touch stay as they are.
      expect(once.startsWith(/^[^]*[\r\n]|^/.exec(text.slice(0, from))![0])).toBe(true);
      expect(once.endsWith(/(?:[\r\n][^]*)?$/.exec(text.slice(to))![0])).toBe(true);
      const inside = ({ start, end, nameStart, nameEnd, children }: Symbol): boolean =>
        0 <= start &&
        start <= nameStart &&
        nameEnd <= end &&
        end <= text.length &&
        children.every((child) => start <= child.start && child.end <= end && inside(child));
      expect(documentSymbols(snapshot).every(inside)).toBe(true);
      const words = [...text.matchAll(/climb|turn/g)];
      const word = words.length === 0 ? at : words[other % words.length]!.index;
      const name = nameAt(snapshot, word);
      if (name === null) return;
      names += 1;
      expect(text.slice(name.start, name.end)).toBe(name.name);
      const renaming = renameAt(snapshot, word, 'quite_new');
      if (!('edits' in renaming)) throw new Error(renaming.refused);
      // Renamed back, the text is what it was.
      const there = opened(edited(text, renaming.edits));
      const place = renaming.edits[0]!.start;
      const back = renameAt(there, place, name.name);
      if ('edits' in back) expect(edited(there.text, back.edits)).toBe(text);
    }),
    { ...RUN, numRuns: 800 },
  );
  expect(names).toBeGreaterThan(30);
});

test('scores and the lines above phrases of any text', () => {
  let notes = 0;
  always(
    fc.property(junk, fc.nat(), (text, pick) => {
      const snapshot = opened(text);
      const at = pick % (text.length + 1);
      for (const { start, end, keyword } of codeLenses(snapshot, DEFAULT_SETTINGS))
        expect(0 <= keyword && keyword <= start && start < end && end <= text.length).toBe(true);
      expect(scoreAt(snapshot, at, DEFAULT_THEORY, { scope: 'phrase', pitch: 'written' }).phrases.length).toBeLessThanOrEqual(1);
      for (const phrase of scoreAt(snapshot, at, DEFAULT_THEORY, { scope: 'lesson', pitch: 'concert' }).phrases) {
        for (const { start, end, label } of phrase.notes) {
          notes += 1;
          expect(phrase.start <= start && start < end && end <= phrase.end).toBe(true);
          expect(label).not.toMatch(/undefined|NaN|[`\n]/);
        }
      }
    }),
    { ...RUN, numRuns: 800 },
  );
  expect(notes).toBeGreaterThan(30);
});
