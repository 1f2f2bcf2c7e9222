/** A lesson from a stranger's folder: everything works, and nothing but the extension's own files is loaded. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import notes from '../../client/preview/piano-notes.json';
import { ROOT } from '../../client/editor/tools.mjs';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile('untrusted');
const refused: string[] = [];
const asked: string[] = [];
beforeAll(() => {
  bench.page.on('console', (message) => {
    if (/content security policy/i.test(message.text())) refused.push(`${message.location().url} ${message.text()}`);
  });
  bench.page.on('request', (request) => {
    if (request.frame().parentFrame() !== null) asked.push(request.url());
  });
});

test('findings, score and sound work in a folder that is not trusted', async () => {
  await bench.openText('strange.phrase', 'phrase "Strange"\n  key     C major\n  tempo   300 swing\n  over    | Dm7 G7 | Cmaj7 |\n  line    | D4 F A G | F-A C-E G ~ |\n');
  await bench.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor();
  await bench.squiggles('warning').first().waitFor();
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await bench.command('Phrasewright: Play the Phrase');
  // The marks stay when the music is over: on a slow machine it may be, before anybody looks.
  await expect.poll(() => score.evaluate<number>(`performance.getEntriesByName('phrasewright:sounding').length`), { timeout: 30_000 }).toBeGreaterThan(0);
  await score.locator('button.play', { hasText: 'Play' }).waitFor();
  expect(refused).toEqual([]);
  // The page's policy is in force, and this test would have heard of it.
  await score.evaluate("document.body.insertAdjacentHTML('beforeend', '<style>p { color: red }</style>')");
  await expect.poll(() => refused.length).toBe(1);
  // What the page asked for comes from the editor itself, nothing from elsewhere.
  const own = asked.filter((url) => /\/dist\//.test(url)).map((url) => url.replace(/^.*\/dist\//, 'dist/').replace(/\?.*$/, ''));
  // The recordings of the piano, loaded by the first sound.
  const recordings = Object.keys(notes).map((midi) => `dist/piano/${midi}.mp3`);
  expect([...new Set(own)].sort()).toEqual([...recordings, 'dist/preview/font/bold.woff2', 'dist/preview/font/regular.woff2', 'dist/preview/score.css', 'dist/preview/score.js', 'dist/verovio/verovio-module.js', 'dist/verovio/verovio.js'].sort());
});

test('signs of the trade get no box: dashes, apostrophes, flats and sharps are what they seem to be', async () => {
  const signs = 'lesson "The ferryman’s first — and second – tune"\n\nphrase "The pilot’s third — or ‘last’ – tune"\n  key     B♭ major\n  over    | Cm7 F7♭9 | B♭maj7 |\n  line    | C4 E♭ G A | B♭ ~ . . |\n  say     "C♯ isn’t in it – it’s a D♭ — so to speak."\n';
  await bench.openText('signs.phrase', signs);
  await bench.page.locator('.tabs-container .tab.active', { hasText: 'signs.phrase' }).waitFor();
  // The highlighter speaks in plain text, which shows that it is on and has had its time.
  await bench.openText('signs.txt', signs);
  await bench.page.locator('.unicode-highlight').first().waitFor();
  await bench.open('signs.phrase');
  await bench.page.locator('.view-line', { hasText: /so.to.speak/ }).waitFor();
  await bench.page.waitForTimeout(1000);
  expect(await bench.page.locator('.unicode-highlight').count()).toBe(0);
  await bench.goTo(6, 13);
  await bench.command('Phrasewright: Open the Walk-through as Text');
  await bench.page.locator('.view-line', { hasText: /Suggested.level/ }).waitFor();
  await bench.page.waitForTimeout(1000);
  expect(await bench.page.locator('.unicode-highlight').count()).toBe(0);
  await bench.picture('signs');
});

test('the engraving library is a file of its own, as it came, with its licence beside it', () => {
  const library = dirname(createRequire(join(ROOT, 'package.json')).resolve('verovio'));
  for (const [ours, theirs] of [['verovio-module.js', 'verovio-module.mjs'], ['verovio.js', 'verovio.mjs']] as const) {
    expect(readFileSync(join(ROOT, 'dist', 'verovio', ours)).equals(readFileSync(join(library, theirs)))).toBe(true);
  }
  expect(readFileSync(join(ROOT, 'dist', 'verovio', 'LGPL-3.0.txt'), 'utf8')).toContain('GNU LESSER GENERAL PUBLIC LICENSE');
  expect(readFileSync(join(ROOT, 'dist', 'verovio', 'NOTICE.txt'), 'utf8')).toContain('may put another version in its');
  for (const bundle of ['preview/score.js', 'client.cjs', 'server.cjs', 'cli.cjs']) expect(readFileSync(join(ROOT, 'dist', bundle), 'utf8')).not.toContain('class VerovioToolkit');
});
