/** The command line when something in it, or in the world, breaks off: what was there stays, and why is said once. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, type BuildOptions } from 'esbuild';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const LESSON = 'phrase "Clean"\n  key     C major\n  over    | Dm7 G7  | Cmaj7     |\n  line    | D4 F A G | E-G C B3 ~ |\n';

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-cli-faults-'));
  const shared = { entryPoints: ['server/src/cli.ts'], bundle: true, platform: 'node', format: 'cjs', logLevel: 'error' } satisfies BuildOptions;
  await build({ ...shared, outfile: join(folder, 'cli.cjs') });
  await build({
    ...shared,
    outfile: join(folder, 'broken.cjs'),
    plugins: [{ name: 'broken-device', setup: (plugins) => plugins.onLoad({ filter: /devices[/\\]enclosure\.ts$/ }, () => ({ contents: 'export const enclosure = () => { throw new Error("out of order"); };' })) }],
  });
  writeFileSync(join(folder, 'clean.phrase'), LESSON);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(cli: 'cli' | 'broken', args: readonly string[], out: 'pipe' | number = 'pipe'): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(folder, `${cli}.cjs`), ...args], { cwd: folder, encoding: 'utf8', stdio: ['ignore', out, 'pipe'] });
  return { status, out: stdout ?? '', err: stderr };
}

describe('a device that throws', () => {
  const TOLD = 'phrasewright: A fault of Phrasewright: the device “enclosure” broke off: out of order. Everything else goes on.\n';

  test('is told once, and the phrase is explained without it', () => {
    const { status, out, err } = run('broken', ['explain', 'clean.phrase']);
    expect({ status, err }).toEqual({ status: 0, err: TOLD });
    expect(out).toContain('Clean');
  });

  test('is told once by however many workers', () => {
    const names = Array.from({ length: 8 }, (_, i) => `long-${i}.phrase`);
    for (const name of names) writeFileSync(join(folder, name), LESSON.repeat(300));
    const { status, out, err } = run('broken', ['explain', ...names]);
    expect({ status, err }).toEqual({ status: 0, err: TOLD });
    expect(out.match(/^Clean$/gm)).toHaveLength(8 * 300);
  });
});
