/** Bundles the extension, its server and the command line into dist. Nothing is minified, so that errors name what they mean. */
import { chmodSync, copyFileSync, cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';

const shared = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  sourcemap: true,
  keepNames: true,
  metafile: true,
  logLevel: 'warning',
};

const bundles = await Promise.all([
  build({ ...shared, entryPoints: ['client/src/extension.ts'], outfile: 'dist/client.cjs', external: ['vscode'] }),
  build({ ...shared, entryPoints: ['server/src/start-server.ts'], outfile: 'dist/server.cjs' }),
  build({ ...shared, entryPoints: ['server/src/cli.ts'], outfile: 'dist/cli.cjs', banner: { js: '#!/usr/bin/env node' } }),
  // Only this one holds the PDF library; it is loaded by the first handout.
  build({
    ...shared, entryPoints: ['server/src/handout-worker.ts'], outfile: 'dist/handout-worker.cjs',
    // The PDF library asks for the address of its module, which a bundle of this format has not.
    define: { 'import.meta.url': 'addressOfModule' }, banner: { js: "const addressOfModule = require('node:url').pathToFileURL(__filename).href;" },
  }),
  // The page of the score runs in a browser, and loads the engraving library by its address.
  build({ ...shared, entryPoints: { score: 'client/preview/main.ts' }, outdir: 'dist/preview', platform: 'browser', target: 'es2022', format: 'esm' }),
]);
copyFileSync('client/preview/score.css', 'dist/preview/score.css');
cpSync('client/preview/font', 'dist/preview/font', { recursive: true });
copyVerovio();
copyFonts();
writeNotices(bundles.flatMap(({ metafile }) => Object.keys(metafile.inputs)));
chmodSync('dist/cli.cjs', 0o755);

// `npx phrasewright` inside the checkout finds the command where npm would have linked it.
const link = 'node_modules/.bin/phrasewright';
if (process.platform !== 'win32' && existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync(link, { force: true });
  symlinkSync('../../dist/cli.cjs', link);
}

/** The engraving library is under the LGPL: it stays a file of its own, unchanged, with its licence and a notice beside it, so that anyone can put another version in its place. */
function copyVerovio() {
  const from = dirname(createRequire(import.meta.url).resolve('verovio'));
  mkdirSync('dist/verovio', { recursive: true });
  // Not every editor serves `.mjs` as a script; the name is all that is changed.
  copyFileSync(join(from, 'verovio-module.mjs'), 'dist/verovio/verovio-module.js');
  copyFileSync(join(from, 'verovio.mjs'), 'dist/verovio/verovio.js');
  // Node asks what kind of script it is.
  writeFileSync('dist/verovio/package.json', '{ "type": "module" }\n');
  for (const file of ['NOTICE.txt', 'LGPL-3.0.txt', 'GPL-3.0.txt']) copyFileSync(join('client/preview/verovio', file), join('dist/verovio', file));
}

/** The whole fonts, for titles and prose in any language that they have letters for; a PDF holds those letters that it needs. */
function copyFonts() {
  const from = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
  mkdirSync('dist/fonts', { recursive: true });
  for (const file of ['DejaVuSansCondensed.ttf', 'DejaVuSansCondensed-Bold.ttf']) copyFileSync(join(from, 'ttf', file), join('dist/fonts', file));
  copyFileSync(join(from, 'LICENSE'), 'dist/fonts/LICENSE.txt');
}

/** The libraries that were bundled ask that their copyright and licence go along. */
function writeNotices(inputs) {
  const folders = new Set(inputs.flatMap((input) => input.match(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? []));
  const notices = [...folders].sort().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
    return `${name} ${version} (${license})\n\n${file === undefined ? `The package brings no text of its licence, ${license}.` : readFileSync(join(folder, file), 'utf8').trim()}\n`;
  });
  const head = 'These libraries are part of this extension, each under its own licence.\n';
  writeFileSync('dist/THIRD-PARTY-NOTICES.txt', [head, ...notices].join(`\n${'-'.repeat(80)}\n\n`));
}
