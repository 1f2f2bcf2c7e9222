/** The form of the code is a matter for machines: whoever reads or changes it finds the same everywhere. */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, it } from 'vitest';

it('is laid out as the formatter has it, without what the linter warns of (npm run format mends most)', () => {
  const biome = createRequire(import.meta.url).resolve('@biomejs/biome/bin/biome');
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [biome, 'ci', '--error-on-warnings', '--colors=off', '--max-diagnostics=20'],
    {
      encoding: 'utf8',
    },
  );
  expect(status, `${stdout}\n${stderr}`).toBe(0);
});

it('has no test that is tried again, left out or run alone', () => {
  const folder = join(import.meta.dirname, '..');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => /\.(?:test|suite)\.ts$|config\.ts$/.test(file));
  expect(files.length).toBeGreaterThan(100);
  const found = files.filter((file) =>
    /\bretry: *[1-9]|\b(?:test|it|describe)\.(?:only|todo|skip)\(/.test(readFileSync(join(folder, file), 'utf8')),
  );
  expect(found).toEqual([]);
});
