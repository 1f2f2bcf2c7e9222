/** `npm run docs`: writes the generated pages anew, each beside the code it is made from. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const folder = mkdtempSync(join(tmpdir(), 'phrasewright-docs-'));
const outfile = join(folder, 'manual.mjs');
await build({ entryPoints: ['server/src/manual.ts'], bundle: true, platform: 'node', format: 'esm', outfile, logLevel: 'error' });
const { pages } = await import(pathToFileURL(outfile).href);
for (const [path, text] of pages(JSON.parse(readFileSync('package.json', 'utf8')))) writeFileSync(path, text);
rmSync(folder, { recursive: true });
