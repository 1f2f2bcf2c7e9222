/** The pages are those of today, and what they show works. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import manifest from '../../package.json';
import { DEVICE_KINDS, DEVICES } from '../../server/src/analysis/devices/table';
import { EXAMPLES } from '../../server/src/assists/examples';
import { ASSISTS } from '../../server/src/assists/registry';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { pages } from '../../server/src/manual';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

const ROOT = join(import.meta.dirname, '..', '..');
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const PAGES = pages(manifest);

test.each([...PAGES])('%s is that of today (npm run docs)', (path, text) => {
  expect(read(path)).toBe(text);
});

test('THEORY has a row of every device, the ornaments in the order of their precedence', () => {
  const [, table] = read('server/src/analysis/THEORY.md').split('| device | what it is | source |\n| --- | --- | --- |\n');
  const told = table!
    .split('\n\n')[0]!
    .split('\n')
    .flatMap((row) => row.split(' | ')[0]!.replace(/^\| /, '').split(', '));
  expect([...told].sort()).toEqual([...DEVICE_KINDS].sort());
  const ornaments: readonly string[] = DEVICES.filter(({ layer }) => layer === 'ornament').map(({ id }) => id);
  expect(told.slice(0, ornaments.length)).toEqual(ornaments);
});

test('every code action has its example, and no other has', () => {
  expect(Object.keys(EXAMPLES).sort()).toEqual(ASSISTS.map(({ id }) => id).sort());
});

test('every setting, command and colour has its row', () => {
  const page = PAGES.get('client/SETTINGS.md')!;
  for (const name of Object.keys(manifest.contributes.configuration.properties)) expect(page).toContain(`\`${name}\``);
  for (const { title } of manifest.contributes.commands) expect(page).toContain(`Phrasewright: ${title}`);
  for (const { id } of manifest.contributes.colors) expect(page).toContain(`\`${id}\``);
});

test('the steps of a first lesson lead to commands that are there, and show what ships', () => {
  const commands = new Set(manifest.contributes.commands.map(({ command }) => command));
  const shipped = read('.vscodeignore')
    .split('\n')
    .filter((row) => row.startsWith('!'))
    .map((row) => new RegExp(`^${row.slice(1).replaceAll('.', '\\.').replaceAll('*', '[^/]*')}$`));
  for (const { steps } of manifest.contributes.walkthroughs) {
    for (const { description, media } of steps) {
      for (const [, command] of description.matchAll(/\]\(command:([^)]+)\)/g)) expect(commands).toContain(command);
      const file = 'image' in media ? media.image! : media.markdown!;
      expect(existsSync(join(ROOT, file)), file).toBe(true);
      expect(
        shipped.some((pattern) => pattern.test(file)),
        file,
      ).toBe(true);
    }
  }
});

const WRITTEN = ['README.md', 'DEVELOPERS.md', 'client/SCORE.md', 'client/first-lesson/begin.md', 'grammar/LANGUAGE.md', ...PAGES.keys()];

test.each(WRITTEN)('every file and place that %s links to is there', (path) => {
  const text = read(path);
  for (const [, link] of text.matchAll(/\]\(([^)\s]+)\)/g)) {
    const [file, place] = link!.split('#') as [string, string?];
    if (file !== '') expect(existsSync(join(ROOT, dirname(path), file)), link).toBe(true);
    else expect(text).toContain(`<a id="${place}">`);
  }
});

const PROJECT = ['client', 'grammar', 'server', 'tests', 'samples'].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((path) => `/${folder}/${path.replaceAll('\\', '/')}`),
);

test.each(['README.md', 'DEVELOPERS.md'])('the files and scripts that %s names are there', (path) => {
  const text = read(path);
  const named = [...text.matchAll(/`([\w./-]+\.(?:ts|mjs|md))`/g)].map(([, file]) => file!);
  const known = [...PROJECT, '/README.md', '/DEVELOPERS.md', '/CHANGELOG.md'];
  expect(named.filter((file) => !known.some((one) => one.endsWith(`/${file}`)))).toEqual([]);
  const scripts = [...text.matchAll(/npm run ([\w:]+)/g)].map(([, script]) => script!);
  expect(scripts.filter((script) => !Object.hasOwn(manifest.scripts, script))).toEqual([]);
  expect(scripts.length).toBeGreaterThan(0);
});

/** Code blocks that hold `.phrase` text. */
function lessonsIn(text: string): string[] {
  return [...text.matchAll(/^( *)```\n([\s\S]*?)^\1```$/gm)]
    .map(([, , body]) => body!)
    .filter((body) => /^\s*(lesson|phrase|changes) /m.test(body));
}

test.each(['README.md', 'grammar/LANGUAGE.md'])('the lessons that %s shows have no findings', (path) => {
  const lessons = lessonsIn(read(path));
  expect(lessons.length).toBeGreaterThan(0);
  for (const lesson of lessons) expect(findingsOf(openSnapshot('', 1, lesson), DEFAULT_THEORY).map(({ message }) => message)).toEqual([]);
});

test('the README is two screens long', () => {
  expect(read('README.md').split('\n').length).toBeLessThan(100);
});
