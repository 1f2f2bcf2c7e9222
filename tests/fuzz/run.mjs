/** Bundles the fuzz programs and runs them: `npm run fuzz -- --minutes 20`. */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

// Beside the libraries, so that they are found from there.
const outfile = 'node_modules/.cache/phrasewright-fuzz/main.mjs';
mkdirSync('node_modules/.cache/phrasewright-fuzz', { recursive: true });
await build({
  entryPoints: ['tests/fuzz/main.ts'],
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  packages: 'external',
  sourcemap: 'inline',
  outfile,
  logLevel: 'error',
});
// What the programs bundle, for all of them.
process.env.PHRASEWRIGHT_BUNDLES = mkdtempSync(join(tmpdir(), 'phrasewright-bundles-'));
process.on('exit', () => rmSync(process.env.PHRASEWRIGHT_BUNDLES, { recursive: true, force: true }));
process.setSourceMapsEnabled(true);
const { fuzz } = await import(pathToFileURL(outfile).href);
try {
  process.exit((await fuzz(process.argv.slice(2))) ? 0 : 1);
} catch (error) {
  console.error(error);
  process.exit(2);
}
