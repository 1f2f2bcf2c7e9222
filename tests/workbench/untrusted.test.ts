/** A lesson from a stranger's folder: everything works, and nothing but the extension's own files is loaded. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Frame } from 'playwright-core';
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

/** What a page might be made to do, and must not. Nothing answers at the address (RFC 6761 keeps `.invalid` for that). */
const ATTACKS: Readonly<Record<string, string>> = {
  'a style': `document.body.insertAdjacentHTML('beforeend', '<style>p { color: red }</style>')`,
  'a style on an element': `document.body.insertAdjacentHTML('beforeend', '<p style="color: red"></p>')`,
  'a script': `document.body.append(Object.assign(document.createElement('script'), { textContent: 'document.title = "broken"' }))`,
  'a script from elsewhere': `document.body.append(Object.assign(document.createElement('script'), { src: 'https://h.invalid/a.js' }))`,
  'a handler': `document.body.insertAdjacentHTML('beforeend', '<button onclick="document.title = 1"></button>'); document.body.lastElementChild.click()`,
  'a script as an address': `document.body.insertAdjacentHTML('beforeend', '<iframe src="javascript:parent.document.title = 1"></iframe>')`,
  'a picture': `document.body.insertAdjacentHTML('beforeend', '<img src="https://h.invalid/p.png">')`,
  'a frame': `document.body.insertAdjacentHTML('beforeend', '<iframe src="https://h.invalid/"></iframe>')`,
  'an object': `document.body.insertAdjacentHTML('beforeend', '<object data="https://h.invalid/o"></object>')`,
  'a style from elsewhere': `document.head.insertAdjacentHTML('beforeend', '<link rel="stylesheet" href="https://h.invalid/a.css">')`,
  'another base': `document.head.insertAdjacentHTML('beforeend', '<base href="https://h.invalid/">')`,
  'a request': `void fetch('https://h.invalid/').catch(() => {})`,
  'a socket': `try { new WebSocket('wss://h.invalid/') } catch {}`,
  'a worker': `try { new Worker(URL.createObjectURL(new Blob(['']))) } catch {}`,
  'a form': `document.body.insertAdjacentHTML('beforeend', '<form action="https://h.invalid/" method="post"></form>'); document.body.lastElementChild.submit()`,
};

/** Tries each in a page, and hears it refused. */
async function attack(page: Frame): Promise<void> {
  const title = await page.evaluate<string>('document.title');
  for (const [what, code] of Object.entries(ATTACKS)) {
    const before = refused.length;
    await page.evaluate(`(() => { ${code} })()`);
    await expect.poll(() => refused.length, { message: `${what} is refused` }).toBeGreaterThan(before);
    // The browser shows a page of its own in place of one whose form it refuses: that comes last, and nothing is asked of it.
    if (what === 'a form') return;
    // A frame that never loads would hold up whoever looks through the frames.
    await page.evaluate("document.querySelectorAll('iframe, object').forEach((one) => one.remove())");
    expect(await page.evaluate<string>('document.title'), what).toBe(title);
  }
}

/** What a page of ours asked for, without the editor's own; addresses from elsewhere as they are. */
function askedFor(): string[] {
  const own = asked
    .filter((url) => /\/dist\//.test(url) || /h\.invalid/.test(url))
    .map((url) => url.replace(/^.*\/dist\//, 'dist/').replace(/\?.*$/, ''));
  return [...new Set(own)].sort();
}

test('findings, score and sound work in a folder that is not trusted', async () => {
  await bench.openText(
    'strange.phrase',
    'phrase "Strange"\n  key     C major\n  tempo   300 swing\n  over    | Dm7 G7 | Cmaj7 |\n  line    | D4 F A G | F-A C-E G ~ |\n',
  );
  await bench.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor();
  await bench.squiggles('warning').first().waitFor();
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await bench.command('Phrasewright: Play the Phrase');
  // The marks stay when the music is over: on a slow machine it may be, before anybody looks.
  await expect.poll(() => score.evaluate<number>(`performance.getEntriesByName('phrasewright:sounding').length`)).toBeGreaterThan(0);
  await score.locator('button.play', { hasText: 'Play' }).waitFor();
  expect(refused).toEqual([]);
  // What the page asked for comes from the editor itself, nothing from elsewhere.
  // The recordings of the piano, loaded by the first sound.
  const recordings = Object.keys(notes).map((midi) => `dist/piano/${midi}.mp3`);
  expect(askedFor()).toEqual(
    [
      ...recordings,
      'dist/preview/font/bold.woff2',
      'dist/preview/font/regular.woff2',
      'dist/preview/score.css',
      'dist/preview/score.js',
      'dist/verovio/verovio-module.js',
      'dist/verovio/verovio.js',
    ].sort(),
  );
  // The page's policy is in force, and this test would have heard of it.
  await attack(score);
}, 90_000);

test('the preview of a handout shows hostile text as text, and loads and runs nothing of it', async () => {
  const hostile = `<img src=https://h.invalid/p.png onerror=alert(1)><script>document.title = 1</script>](command:workbench.action.quit)`;
  await bench.openText(
    'hostile.phrase',
    `lesson "${hostile}"\n\nphrase "${hostile}"\n  key     C major\n  over    | Dm7 G7 | Cmaj7 |\n  line    | D4 F A G | E ~ . . |\n  say     "[a](command:x) <b>${hostile}</b>"\n`,
  );
  await bench.page.locator('.tabs-container .tab.active', { hasText: 'hostile.phrase' }).waitFor();
  await bench.goTo(6, 13);
  [asked.length, refused.length] = [0, 0];
  await bench.command('Phrasewright: Preview the Handout');
  const preview = await previewPage();
  expect(await preview.locator('#handout').innerText()).toContain(hostile);
  expect(await preview.locator('#handout').locator('img, script, a, b, iframe, object, form').count()).toBe(0);
  expect(await preview.evaluate<string>('document.title')).not.toBe('1');
  expect(refused).toEqual([]);
  expect(askedFor()).toEqual(['dist/preview/handout.css', 'dist/preview/handout.js']);
  await bench.picture('hostile-preview');
  await attack(preview);
}, 90_000);

/** The page of the preview, once it has a handout. */
async function previewPage(): Promise<Frame> {
  for (let tries = 0; tries < 150; tries += 1) {
    for (const frame of bench.page.frames())
      if (
        (await frame
          .locator('#handout h2')
          .count()
          .catch(() => 0)) > 0
      )
        return frame;
    await bench.page.waitForTimeout(200);
  }
  throw new Error('No preview of a handout came within thirty seconds.');
}

test('signs of the trade get no box: dashes, apostrophes, flats and sharps are what they seem to be', async () => {
  const signs =
    'lesson "The ferryman’s first — and second – tune"\n\nphrase "The pilot’s third — or ‘last’ – tune"\n  key     B♭ major\n  over    | Cm7 F7♭9 | B♭maj7 |\n  line    | C4 E♭ G A | B♭ ~ . . |\n  say     "C♯ isn’t in it – it’s a D♭ — so to speak."\n';
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
  await bench.command('Phrasewright: Explain the Phrase as Text');
  await bench.page.locator('.view-line', { hasText: /Suggested.level/ }).waitFor();
  await bench.page.waitForTimeout(1000);
  expect(await bench.page.locator('.unicode-highlight').count()).toBe(0);
  await bench.picture('signs');
});

test('the engraving library is a file of its own, as it came, with its licence beside it', () => {
  const library = dirname(createRequire(join(ROOT, 'package.json')).resolve('verovio'));
  for (const [ours, theirs] of [
    ['verovio-module.js', 'verovio-module.mjs'],
    ['verovio.js', 'verovio.mjs'],
  ] as const) {
    expect(readFileSync(join(ROOT, 'dist', 'verovio', ours)).equals(readFileSync(join(library, theirs)))).toBe(true);
  }
  expect(readFileSync(join(ROOT, 'dist', 'verovio', 'LGPL-3.0.txt'), 'utf8')).toContain('GNU LESSER GENERAL PUBLIC LICENSE');
  expect(readFileSync(join(ROOT, 'dist', 'verovio', 'NOTICE.txt'), 'utf8')).toContain('may put another version in its');
  for (const bundle of ['preview/score.js', 'client.cjs', 'server.cjs', 'cli.cjs'])
    expect(readFileSync(join(ROOT, 'dist', bundle), 'utf8')).not.toContain('class VerovioToolkit');
});
