/** What is written stays in the folder that was chosen, whatever lessons, folders and titles are called, and no file takes the place of another. */
import { existsSync, lstatSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative, sep } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { placed } from '../../server/src/cli-export';
import { differentNames, nameOfTitle, safeName } from '../../server/src/file-names';
import { writeNew } from '../../server/src/write-files';
import { anyCharacters, RUN } from './arbitrary';

/** What Windows keeps for devices, and refuses in names (Microsoft, "Naming Files, Paths, and Namespaces", from memory); every name has at most 255 bytes. */
const isDevice = (name: string): boolean => /^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])\s*(?:\.|$)/i.test(name);
const isFit = (name: string): boolean =>
  !isDevice(name) &&
  !/[\\/:*?"<>|\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069]/u.test(name) &&
  !/^\s|[ .]$/.test(name) &&
  name !== '' &&
  new TextEncoder().encode(name).length < 255;

const piece = fc.constantFrom(
  '..',
  '.',
  '/',
  '\\',
  'CON',
  'nul',
  'LPT¹',
  'com9',
  '.txt',
  ' ',
  ':',
  '*',
  '\u0000',
  '\n',
  '\u202e',
  '\ud83c',
  '\udfb7',
  '🎷',
  'é',
  'e\u0301',
  'ß',
  'SS',
  'Waltz',
  'waltz',
  'x'.repeat(300),
  '🎷'.repeat(80),
  '~',
  '-',
  '-2',
  'C:',
  '%2e%2e',
  '$(x)',
  'line\r\nfeed',
);
const name = fc.oneof(
  { weight: 5, arbitrary: fc.array(piece, { maxLength: 5 }).map((parts) => parts.join('')) },
  { weight: 1, arbitrary: anyCharacters({ maxLength: 8 }) },
);

test('any name becomes one that every system can hold, and is then left as it is', () => {
  fc.assert(
    fc.property(name, fc.constantFrom('.mid', '.musicxml', '-student.html', '.phrase', '-2.phrase', ''), (stem, ending) => {
      const safe = safeName(stem, ending, 'lesson');
      expect(isFit(safe), safe).toBe(true);
      expect(safe.endsWith(ending)).toBe(true);
      expect(safeName(safe.slice(0, safe.length - ending.length), ending, 'lesson')).toBe(safe);
    }),
    { ...RUN, numRuns: 3000 },
  );
});

test('any title becomes a part of a name: small letters, digits and dashes', () => {
  fc.assert(
    fc.property(name, (title) => {
      const made = nameOfTitle(title);
      expect(made).toMatch(/^[\p{L}\p{M}\p{N}_]+(?:-[\p{L}\p{M}\p{N}]+)*-?$/u);
      expect([isFit(made), [...made].length <= 61]).toEqual([true, true]);
    }),
    { ...RUN, numRuns: 2000 },
  );
});

test.each([
  ['waltz', '.mid', 'waltz.mid'],
  ['NUL', '.mid', 'NUL_.mid'],
  ['nul.txt', '.mid', 'nul_.txt.mid'],
  ['con .a', '', 'con_.a'],
  ['contrary', '.mid', 'contrary.mid'],
  ['..', '.mid', 'lesson.mid'],
  ['a/../../b', '.mid', 'a-..-..-b.mid'],
  ['C:\\x', '.mid', 'C-x.mid'],
  ['ends. . ', '.mid', 'ends.mid'],
  ['', '.mid', 'lesson.mid'],
  ['a\u202eb', '.mid', 'a-b.mid'],
  ['première étude', '.mid', 'première étude.mid'],
])('%j with %s is %s', (stem, ending, wanted) => {
  expect(safeName(stem, ending, 'lesson')).toBe(wanted);
});

test.each([
  ['Near Arch', 'near-arch'],
  ['“Blue” & new!', 'blue-new'],
  ['../../etc', 'etc'],
  ['CON', 'con_'],
  ['', 'phrase'],
  ['🎷', 'phrase'],
  ['E\u0301tude', 'étude'],
  ['y'.repeat(300), 'y'.repeat(60)],
])('the title %j is %s in a name', (title, wanted) => {
  expect(nameOfTitle(title)).toBe(wanted);
});

test('no two names are one on a disk that tells no capitals apart; a name that is alone stays', () => {
  expect(differentNames(['a.mid', 'A.mid', 'a-2.mid'])).toEqual(['a.mid', 'A-3.mid', 'a-2.mid']);
  expect(differentNames(['é.mid', 'e\u0301.mid'])).toEqual(['é.mid', 'e\u0301-2.mid']);
  fc.assert(
    fc.property(
      fc.array(
        fc
          .constantFrom('a', 'A', 'a-2', 'A-2', 'a-3', 'é', 'e\u0301', 'É', 'ß', 'ss', 'sub/a', 'Sub/a', '.a', 'a.b')
          .map((one) => `${one}.mid`),
        { maxLength: 9 },
      ),
      (names) => {
        const key = (one: string): string => one.normalize('NFC').toUpperCase();
        const made = differentNames(names);
        expect(new Set(made.map(key)).size).toBe(names.length);
        const alone = names.filter((one) => names.filter((other) => key(other) === key(one)).length === 1);
        for (const one of alone) expect(made[names.indexOf(one)]).toBe(one);
      },
    ),
    RUN,
  );
});

describe('on the disk', () => {
  let home: string;
  beforeEach(() => {
    home = mkdtempSync(join(tmpdir(), 'phrasewright-names-'));
  });
  afterEach(() => rmSync(home, { recursive: true, force: true }));

  test('all stand below the chosen folder, each with what was meant for it', async () => {
    let round = 0;
    const path = fc
      .array(
        name.map((one) => one.replaceAll('x'.repeat(300), 'x'.repeat(90))),
        { minLength: 1, maxLength: 3 },
      )
      .map((parts) => parts.join(sep));
    await fc.assert(
      fc.asyncProperty(fc.array(path, { minLength: 1, maxLength: 4 }), async (names) => {
        const base = join(home, String((round += 1)));
        const out = join(base, 'deep', 'out');
        const outputs = placed(
          names.map((one, i) => ({ name: one, content: String(i) })),
          out,
          '.mid',
        );
        // A folder may be called as a file is: that is told, and nothing is written.
        const isBoth = outputs.files.some(({ file }) =>
          outputs.files.some((other) => other.file.toLowerCase().startsWith(`${file.toLowerCase()}${sep}`)),
        );
        if (isBoth) return;
        await writeNew(outputs, 'refuse');
        const below = readdirSync(base, { recursive: true, encoding: 'utf8' })
          .map((one) => join(base, one))
          .filter((one) => lstatSync(one).isFile());
        expect(below.sort()).toEqual(outputs.files.map(({ file }) => file).sort());
        for (const [i, { file }] of outputs.files.entries()) {
          expect(relative(out, file).split(sep).every(isFit), file).toBe(true);
          expect(readFileSync(file, 'utf8')).toBe(String(i));
        }
      }),
      { ...RUN, numRuns: 150 },
    );
    expect(readdirSync(home).every((one) => /^\d+$/.test(one))).toBe(true);
  });

  const out = (): string => join(home, 'out');
  const write = (file: string, existing: 'overwrite' | 'refuse' = 'overwrite'): Promise<void> =>
    writeNew(
      {
        folder: out(),
        files: [
          { file: join(out(), 'first.mid'), content: 'first' },
          { file: join(out(), file), content: 'new' },
        ],
      },
      existing,
    );

  test.each([
    ['a file that is a link', 'a.mid', 'a.mid', 'secret.txt'],
    ['a folder that is a link', 'sub/a.mid', 'sub', 'elsewhere'],
    ['a folder below a link', 'sub/deeper/a.mid', 'sub', 'elsewhere'],
    ['a link to the folder above', 'sub/a.mid', 'sub', '.'],
    ['a link that leads to nothing', 'a.mid', 'a.mid', 'not-there.txt'],
  ])('%s out of the folder is refused, and nothing at all is written', async (_, file, link, target) => {
    for (const folder of [out(), join(home, 'elsewhere')]) mkdirSync(folder);
    writeFileSync(join(home, 'secret.txt'), 'old');
    symlinkSync(join('..', target), join(out(), link));
    await expect(write(file)).rejects.toThrow(
      /a link leads out of .* here, and nothing is written there\. Remove the link, or choose another --out\./,
    );
    expect(readdirSync(out())).toEqual([link]);
    expect(readFileSync(join(home, 'secret.txt'), 'utf8')).toBe('old');
    expect(readdirSync(join(home, 'elsewhere'))).toEqual([]);
    expect(existsSync(join(home, 'not-there.txt'))).toBe(false);
  });

  test('a link that stays within stays a link; the chosen folder, and a file that was named itself, may be links', async () => {
    mkdirSync(join(home, 'real', 'sub'), { recursive: true });
    symlinkSync('real', out());
    writeFileSync(join(home, 'real', 'b.mid'), 'old');
    symlinkSync('b.mid', join(out(), 'a.mid'));
    await write('a.mid');
    expect([readFileSync(join(home, 'real', 'b.mid'), 'utf8'), lstatSync(join(out(), 'a.mid')).isSymbolicLink()]).toEqual(['new', true]);
    symlinkSync(join(home, 'real', 'b.mid'), join(home, 'named.mid'));
    await writeNew(placed([{ name: 'any', content: 'named' }], join(home, 'named.mid'), '.mid'), 'overwrite');
    expect(readFileSync(join(home, 'real', 'b.mid'), 'utf8')).toBe('named');
    expect(dirname(placed([{ name: `..${sep}..${sep}x`, content: '' }], out(), '.mid').files[0]!.file).startsWith(out())).toBe(true);
  });
});
