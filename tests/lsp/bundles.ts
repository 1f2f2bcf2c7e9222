/** The command line, bundled from its sources once a run for all files that start it. */
import { existsSync, mkdtempSync, renameSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

/** The path of the bundle. */
export async function bundledCli(): Promise<string> {
  const folder = (process.env[BUNDLES] ??= mkdtempSync(join(tmpdir(), 'phrasewright-bundles-')));
  const outfile = join(folder, 'cli.cjs');
  if (existsSync(outfile)) return outfile;
  // Two files that come first at once both bundle it; what one starts is always whole.
  const own = join(folder, `cli-${process.pid}.cjs`);
  await build({ entryPoints: ['server/src/cli.ts'], bundle: true, platform: 'node', format: 'cjs', outfile: own, logLevel: 'error' });
  renameSync(own, outfile);
  return outfile;
}

/** The variable that tells all processes of a run the folder. */
export const BUNDLES = 'PHRASEWRIGHT_BUNDLES';
