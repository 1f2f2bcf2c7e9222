/** `npm run docs`: writes the tables of the README anew. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const folder = mkdtempSync(join(tmpdir(), 'phrasewright-docs-'));
const outfile = join(folder, 'manual.mjs');
await build({ entryPoints: ['server/src/manual.ts'], bundle: true, platform: 'node', format: 'esm', outfile, logLevel: 'error' });
const { withTables } = await import(pathToFileURL(outfile).href);
writeFileSync('README.md', withTables(readFileSync('README.md', 'utf8')));
rmSync(folder, { recursive: true });
