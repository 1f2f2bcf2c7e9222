/** Puts the worker that makes handouts into a folder, with what it loads beside it: the engraving library, fonts, lettering. */
import { copyFileSync, cpSync, mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';

const packageFolder = (name) => dirname(createRequire(import.meta.url).resolve(name));

export async function bundleHandout(to, options) {
  copyVerovio(join(to, 'verovio'));
  copyFonts(join(to, 'fonts'));
  cpSync('client/preview/font', join(to, 'preview', 'font'), { recursive: true });
  return build({
    ...options,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    entryPoints: ['server/src/handout-worker.ts'],
    outfile: join(to, 'handout-worker.cjs'),
    // The PDF library asks for the address of its module, which a bundle of this format has not.
    define: { 'import.meta.url': 'addressOfModule' },
    banner: { js: "const addressOfModule = require('node:url').pathToFileURL(__filename).href;" },
  });
}

/** The engraving library is under the LGPL: it stays a file of its own, unchanged, with its licence and a notice beside it, so that anyone can put another version in its place. */
function copyVerovio(to) {
  const from = packageFolder('verovio');
  mkdirSync(to, { recursive: true });
  // Not every editor serves `.mjs` as a script; the name is all that is changed.
  copyFileSync(join(from, 'verovio-module.mjs'), join(to, 'verovio-module.js'));
  copyFileSync(join(from, 'verovio.mjs'), join(to, 'verovio.js'));
  // Node asks what kind of script it is.
  writeFileSync(join(to, 'package.json'), '{ "type": "module" }\n');
  for (const file of ['NOTICE.txt', 'LGPL-3.0.txt', 'GPL-3.0.txt']) copyFileSync(join('client/preview/verovio', file), join(to, file));
}

/** The whole fonts, for titles and prose in any language that they have letters for; a PDF holds those letters that it needs. */
function copyFonts(to) {
  const from = packageFolder('dejavu-fonts-ttf/package.json');
  mkdirSync(to, { recursive: true });
  for (const file of ['DejaVuSansCondensed.ttf', 'DejaVuSansCondensed-Bold.ttf']) copyFileSync(join(from, 'ttf', file), join(to, file));
  copyFileSync(join(from, 'LICENSE'), join(to, 'LICENSE.txt'));
}
