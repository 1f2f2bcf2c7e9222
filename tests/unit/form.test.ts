/** The form of the code is a matter for machines: whoever reads or changes it finds the same everywhere. */
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
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
