/** The property tests with seeds of their own: one file a batch, in a process of its own. */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Area } from './area';

/** Every test file that draws by the seed that PROPERTY_SEED sets. */
const FILES = ['tests/property', 'tests/unit', 'tests/unit/features', 'tests/outside']
  .flatMap((folder) =>
    readdirSync(folder)
      .filter((file) => file.endsWith('.test.ts'))
      .map((file) => join(folder, file)),
  )
  .filter((file) => /import \{[^}]*\bRUN\b[^}]*\} from/.test(readFileSync(file, 'utf8')));

let turn = 0;

export const properties: Area = {
  name: 'properties',
  share: 0,
  turn: 1,
  async batch(seed) {
    const file = FILES[turn % FILES.length]!;
    turn += 1;
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      ['node_modules/vitest/vitest.mjs', 'run', '--config', 'tests/vitest.config.ts', '--project', 'core', '--testTimeout', '300000', file],
      { env: { ...process.env, PROPERTY_SEED: String(seed), NO_COLOR: '1' }, encoding: 'utf8' },
    );
    // A test that ran out of time on a busy machine found nothing.
    const isFound = status !== 0 && (/Property failed|AssertionError/.test(stdout) || !/timed out/.test(stdout));
    return { inputs: 1, failure: !isFound ? null : `PROPERTY_SEED=${seed} ${file}\n${stdout}\n${stderr}` };
  },
};
