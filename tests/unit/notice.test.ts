/** What the editor is given to show: no name of a file or a phrase becomes a link or a picture there. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { asWords } from '../../client/src/words';
import { anyCharacters, RUN } from '../property/arbitrary';

/** The links and the pictures that an editor finds in a notification, a list, a lens: as its sources of version 1.100 have them (`linkedText.ts`, `iconLabels.ts`, MIT). */
const LINK = /\[([^\]]+)\]\(((?:https?:\/\/|command:|file:)[^)\s]+)(?: (["'])(.+?)(\3))?\)/i;
const ICON = /\$\([A-Za-z0-9-]+(?:~[A-Za-z]+)?\)/i;
const UNSEEN = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;

const CASES = [
  '[Show](command:workbench.action.quit)',
  '[a](https://example.invalid "b")',
  '[[x](file:///etc/passwd)](command:y)',
  '$(trash)',
  '$(sync~spin) done',
  '\u202egnp.exe',
  'a\nb\u2028c\u0000d',
  '[a]\u0000(command:x)',
  '$\u202e(trash)',
  ']((((',
  '$$(zap)',
];

test.each(CASES)('%j becomes words', (text) => {
  const shown = asWords(text);
  expect(shown).not.toMatch(LINK);
  expect(shown).not.toMatch(ICON);
  expect(shown).not.toMatch(UNSEEN);
});

test('any text does, and what can be seen of it stays', () => {
  const piece = fc.constantFrom(
    '[',
    ']',
    '(',
    ')',
    '$',
    'command:x',
    'https://a',
    'zap',
    '~spin',
    ' ',
    '"',
    '\u2066',
    '\n',
    '\u0000',
    '\u2060',
  );
  fc.assert(
    fc.property(
      fc
        .array(fc.oneof({ weight: 8, arbitrary: piece }, { weight: 1, arbitrary: anyCharacters({ maxLength: 4 }) }), { maxLength: 12 })
        .map((parts) => parts.join('')),
      (text) => {
        const shown = asWords(text);
        for (const sign of [LINK, ICON, UNSEEN]) expect(shown).not.toMatch(sign);
        const seen = (one: string): string => one.replace(/[\p{Cc}\u2028\u2029\u2060\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\s]/gu, '');
        expect(seen(shown)).toBe(seen(text));
        expect(asWords(shown)).toBe(shown);
      },
    ),
    { ...RUN, numRuns: 2000 },
  );
});

test('nothing but `notice.ts` shows a notification', () => {
  const folder = resolve(import.meta.dirname, '..', '..', 'client', 'src');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
  const showing = files.filter((file) =>
    /\bshow(?:Information|Warning|Error)Message\b|\bwithProgress\b/.test(readFileSync(join(folder, file), 'utf8')),
  );
  expect(showing).toEqual(['notice.ts']);
});
