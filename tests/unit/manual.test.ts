import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { withTables } from '../../server/src/manual';
import settings from '../../package.json';

const ROOT = join(import.meta.dirname, '..', '..');
const README = readFileSync(join(ROOT, 'README.md'), 'utf8');

test('the tables of the README are those of today (npm run docs)', () => {
  expect(withTables(README)).toBe(README);
});

test('every setting and command is in the README', () => {
  for (const name of Object.keys(settings.contributes.configuration.properties)) expect(README).toContain(`\`${name}\``);
  for (const { title } of settings.contributes.commands) expect(README).toContain(`Phrasewright: ${title}`);
});

test('every file that the README and the contributor guide link to is there', () => {
  for (const file of ['README.md', 'DEVELOPERS.md']) {
    for (const [, path] of readFileSync(join(ROOT, file), 'utf8').matchAll(/\]\(([^)#]+)\)/g)) expect(existsSync(join(ROOT, path!)), path).toBe(true);
  }
});
