/** What is typed is what is written: the lists of completions offer, and take no key for themselves. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator } from 'playwright-core';
import { afterEach, expect, test } from 'vitest';
import { stopWatching, workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();

/** The first of a list of completions, once it has a name: others tell of that word beside theirs. */
function topOffer(name: string): Locator {
  const { page } = bench;
  const label = page.locator('.label-name', { hasText: new RegExp(`^${name}`) });
  return page.locator('.suggest-widget.visible .monaco-list-row').first().filter({ has: label });
}

test('rows are typed to their ends with Enter, and a scale is chosen after a colon', async () => {
  const head = 'cell down = 5-3 2-1\nchanges turn = | C |\nphrase "Ferry bell"\n';
  await bench.openText('typing.phrase', head);
  await bench.goTo(4, 1);
  const type = (text: string): Promise<void> => bench.page.keyboard.type(text, { delay: 50 });
  const rows = '  key Eb major\n  over | Ebm7 Ab7 | Dbmaj7\n  line | D4 F A C | Db-F G ~ . |\n  part trumpet\n  tempo 120 swing\n';
  // The editor indents the rows below the first one itself.
  await type(rows.replaceAll('\n  ', '\n'));
  await type('over | Bb7:');
  const list = bench.page.locator('.suggest-widget.visible .monaco-list-row');
  await list.filter({ hasText: 'mixolydian' }).first().waitFor();
  await type('lyd');
  await list.first().filter({ hasText: 'lydian-dominant' }).waitFor();
  await bench.page.keyboard.press('Tab');
  await type(' |');
  expect(await bench.saved('typing.phrase')).toBe(`${head}${rows}  over | Bb7:lydian-dominant |`);
});

test('a phrase is filled in field by field: Tab only goes on, Enter takes the choice, and no list writes anything', async () => {
  const { page } = bench;
  // Cells and changes of such names are what a list would have to offer after a C.
  const head = 'cell climb = 1-2 3-5\nchanges cadence = | Dm7 G7 | Cmaj7 |\n';
  await bench.openText('fields.phrase', head);
  await bench.goTo(3, 1);
  const type = (text: string): Promise<void> => page.keyboard.type(text, { delay: 50 });
  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const list = page.locator('.suggest-widget.visible .monaco-list-row');
  // Long enough for a list to come, so that a Tab would meet it.
  const field = async (text: string): Promise<void> => {
    await type(text);
    await page.waitForTimeout(1200);
    expect(await list.count()).toBe(0);
    await press('Tab');
  };
  await type('phrase');
  await list.first().waitFor();
  await press('Tab');
  await list.first().waitFor({ state: 'hidden' });
  await field('Harbour wall');
  await field('C');
  await list.filter({ hasText: 'minor' }).waitFor();
  await press('ArrowDown');
  await page.locator('.suggest-widget.visible .monaco-list-row.focused', { hasText: 'minor' }).waitFor();
  await press('Enter');
  // The choice that is taken leads to the next field.
  await field('96');
  await list.filter({ hasText: 'straight' }).waitFor();
  // The first one is taken as it stands.
  await press('Enter');
  await field('C');
  await field('Eb4 G Eb C');
  await type('// end');
  const filled = `${head}phrase "Harbour wall"\n  key     C minor\n  tempo   96 swing\n  over    | C    |\n  line    | Eb4 G Eb C |\n// end`;
  expect(await bench.saved('fields.phrase')).toBe(filled);
});

test('a claim that holds is completed over its spaces, and a phrase begun on an indented line stands at the start of its line', async () => {
  const { page } = bench;
  const head = 'phrase "Slipway"\n  key     F major\n  over    | Gm7 C7 | Fmaj7 |\n  line    | Bb4-A G-D E-C Bb-G | A ~ . . |\n';
  await bench.openText('claims.phrase', head);
  await bench.goTo(5, 1);
  const type = (text: string): Promise<void> => page.keyboard.type(text, { delay: 50 });
  const list = page.locator('.suggest-widget.visible .monaco-list-row');
  await type('  claim lands 3 at 2');
  // The list follows the last key a moment later.
  await list.first().filter({ hasText: 'lands 3 at 2.1' }).waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await type('phr');
  await topOffer('phrase').waitFor();
  await page.keyboard.press('Tab');
  await list.first().waitFor({ state: 'hidden' });
  await type('Gangway');
  await page.keyboard.press('Escape');
  expect(await bench.saved('claims.phrase')).toContain(
    `${head}  claim lands 3 at 2.1\nphrase "Gangway"\n  key     C major\n  tempo   120 swing\n`,
  );
});

afterEach(() => stopWatching(bench.page));

/** Looks at a page at every frame, and remembers what it has seen of the selectors. */
const WATCH = (selectors: readonly string[]): string => `{
  const seen = window.seen = window.watching = new Set();
  const look = () => {
    for (const selector of ${JSON.stringify(selectors)}) if (document.querySelector(selector) !== null) seen.add(selector);
    if (window.watching === seen) requestAnimationFrame(look);
  };
  look();
}`;
const SEEN = '[...window.seen]';

test('nothing is called wrong while it is written: no squiggle, no red tab, no pale score; what is wrong is, once it is saved', async () => {
  // A machine that is busy would make a rest of a second by itself; how long it is by default is tested on a clock, and so is when the page tells of what is not whole.
  mkdirSync(join(bench.folder, '.vscode'), { recursive: true });
  writeFileSync(join(bench.folder, '.vscode', 'settings.json'), JSON.stringify({ 'phrasewright.findings.rest': 60_000 }));
  await bench.openText('calm.phrase', 'phrase "Before"\n  over    | Cmaj7 |\n  line    | E4 G C5 G |\n\n');
  await bench.goTo(3, 14);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await bench.goTo(5, 1);
  const text = [...['error', 'warning'].map((severity) => `.squiggly-${severity}`), '.tab.active [class*="monaco-decoration"]'];
  await bench.page.evaluate(WATCH(text));
  await score.evaluate(WATCH(['.stale', '.finding']));
  const type = (words: string): Promise<void> => bench.page.keyboard.type(words, { delay: 60 });
  await type('phrase "Calm"\nkey Bb major\nover | Cm7 F7 | Bbmaj7 |\nline | Eb4-D C-G A-C5 Eb-C | D ~ ');
  // The picture has kept up.
  await score.locator('.place[data-note="6"]').first().waitFor({ state: 'attached' });
  await bench.picture('calm-writing');
  // One beat too many.
  await type('. . . |');
  expect(await bench.page.evaluate(SEEN)).toEqual([]);
  expect(await score.evaluate(SEEN)).toEqual([]);
  await bench.page.keyboard.press('Control+s');
  await bench.squiggles('error').first().waitFor();
  await expect.poll(() => bench.page.evaluate(SEEN)).toEqual(expect.arrayContaining(['.squiggly-error', text[2]]));
  await expect.poll(() => score.evaluate(SEEN)).toEqual(expect.arrayContaining(['.stale', '.finding']));
  await bench.picture('calm-rested');
  // What is mended goes, and waits for no rest.
  for (const key of ['Backspace', 'Backspace', 'Backspace']) await bench.page.keyboard.press(key);
  await bench.squiggles('error').first().waitFor({ state: 'detached' });
  rmSync(join(bench.folder, '.vscode'), { recursive: true });
});

test('half a bar is read in beats and not judged, however long one thinks; what is said of it comes when it is left', async () => {
  mkdirSync(join(bench.folder, '.vscode'), { recursive: true });
  writeFileSync(join(bench.folder, '.vscode', 'settings.json'), JSON.stringify({ 'phrasewright.findings.rest': 200 }));
  const { page } = bench;
  const LONG = { timeout: 20_000 };
  await bench.openText('half.phrase', 'phrase "Half"\n  key     F major\n  over    | Gm7 C7 | Fmaj7 |\n');
  await bench.goTo(4, 1);
  const squiggles = ['error', 'warning', 'info'].map((severity) => `.squiggly-${severity}`);
  await page.evaluate(WATCH(squiggles));
  await page.keyboard.type('  line | Bb4-D F-A ', { delay: 60 });
  const lens = page.locator('.codelens-decoration', { hasText: 'chord tones' });
  await expect.poll(bench.degrees, LONG).toEqual(['b3', '5', 'b7', '9']);
  await lens.filter({ hasText: 'Nothing clashes' }).waitFor(LONG);
  // Rests enough for what waits for no more than one.
  await page.waitForTimeout(2000);
  expect(await bench.degrees()).toEqual(['b3', '5', 'b7', '9']);
  await bench.picture('half-a-bar');
  expect(await page.evaluate(SEEN)).toEqual([]);
  await bench.goTo(2, 1);
  await bench.squiggles('warning').first().waitFor(LONG);
  await bench.squiggles('info').first().waitFor(LONG);
  await expect.poll(bench.degrees, LONG).toEqual(['b3', '5', '11', '3']);
  await lens.filter({ hasText: '1 note clashes' }).waitFor(LONG);
  await bench.picture('half-a-bar-left');
  rmSync(join(bench.folder, '.vscode'), { recursive: true });
});

test('behind a row word a list of what it may say opens by itself; a phrase begun within a lesson is written below it', async () => {
  const { page } = bench;
  const list = page.locator('.suggest-widget.visible .monaco-list-row');
  const type = (text: string): Promise<void> => page.keyboard.type(text, { delay: 50 });
  const head = 'phrase "Slipway"\n  key     F major\n  over    | Gm7 C7 | Fmaj7 |\n  line    | Bb4-A G-D E-C Bb-G | A ~ . . |\n';
  await bench.openText('rows.phrase', head);
  await bench.goTo(5, 1);
  await type('  cla');
  await list.filter({ hasText: 'claim' }).first().waitFor();
  await page.keyboard.press('Tab');
  await list.filter({ hasText: 'diatonic' }).first().waitFor();
  await bench.picture('claims-offered');
  await page.keyboard.press('Escape');
  await type('\nclaim ');
  await list.filter({ hasText: 'diatonic' }).first().waitFor();
  await page.keyboard.press('Tab');
  expect(await bench.saved('rows.phrase')).toBe(`${head}  claim   \n  claim diatonic`);
  await bench.openText('within.phrase', 'lesson "Slipway"\n\nabout  "Home."\n');
  await bench.goTo(2, 1);
  await type('phr');
  await topOffer('phrase').waitFor();
  await page.keyboard.press('Tab');
  await list.first().waitFor({ state: 'hidden' });
  await type('Gangway');
  await page.keyboard.press('Escape');
  expect(await bench.saved('within.phrase')).toMatch(/^lesson "Slipway"\nabout {2}"Home."\n\nphrase "Gangway"\n {2}key {5}C major\n/);
});

test('degrees of notes that stand close are read apart, and no border of the line runs through them', async () => {
  await bench.openText(
    'close.phrase',
    'phrase "Close"\n  key     F major\n  over    | Em7b5          | A7alt |\n  line    | Bb4-D C-Bb A-Db C-E | F ~ . . |\n',
  );
  await expect.poll(async () => (await bench.degrees()).length, { timeout: 20_000 }).toBe(9);
  await bench.goTo(4, 1);
  for (const theme of ['Default Light Modern', 'Default High Contrast', 'Default Dark Modern']) {
    await bench.theme(theme);
    expect(await bench.page.locator('.view-overlays .current-line').count()).toBe(0);
    await bench.picture(`close-${theme.replaceAll(' ', '-').toLowerCase()}`);
  }
  const drawn = (await bench.page.evaluate(
    `[...document.querySelectorAll('.view-line span span')].map((span) => getComputedStyle(span, '::before')).filter(({ content }) => content !== 'none' && content !== 'normal').map(({ content, transform }) => [JSON.parse(content), Number(/matrix\\(([^,]+)/.exec(transform)[1])])`,
  )) as [string, number][];
  expect(drawn.filter(([, width]) => width < 1).map(([figure]) => figure)).toEqual(['b13', 'b13']);
});

test('degrees stand above their notes and take no room, follow what is typed, and go with a button', async () => {
  const { page } = bench;
  await bench.openText(
    'degrees.phrase',
    'phrase "Above"\n  key     F major\n  over    | Gm7          | C7#11        |\n  line    | Bb4 A G-Bb D | E5 F#5 G5 C5 |\n',
  );
  await page.locator('.view-line', { hasText: 'Above' }).waitFor();
  const LONG = { timeout: 20_000 };
  const { degrees } = bench;
  await expect.poll(degrees, LONG).toEqual(['b3', '9', '1', 'b3', '5', '3', '#11', '5', '1']);
  // No hint stands in the line: bar lines of the two rows are in one column.
  const columns = (await page.evaluate(`['over', 'line'].map((word) => {
    const line = [...document.querySelectorAll('.view-line')].find(({ textContent }) => textContent.trim().startsWith(word));
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    const found = [];
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      for (let i = 0; i < node.length; i += 1) {
        if (node.data[i] !== '|') continue;
        const range = document.createRange();
        range.setStart(node, i);
        range.setEnd(node, i + 1);
        found.push(Math.round(range.getBoundingClientRect().x));
      }
    }
    return found;
  })`)) as number[][];
  expect(columns[0]).toHaveLength(3);
  expect(columns[1]).toEqual(columns[0]);
  for (const theme of ['Default Light Modern', 'Default Dark Modern', 'Default High Contrast']) {
    await bench.theme(theme);
    await bench.picture(`degrees-${theme.replaceAll(' ', '-').toLowerCase()}`);
  }
  await bench.goTo(4, 19);
  await page.evaluate(
    `{ window.cut = 0; window.watching = true; const look = () => { if (/\u2026/.test(document.querySelector('.view-lines').textContent)) window.cut += 1; if (window.watching) requestAnimationFrame(look); }; look(); }`,
  );
  for (const key of ['Backspace', 'E', 'b', '-', 'C', ' ']) await page.keyboard.press(key, { delay: 60 });
  expect(await page.evaluate('window.cut')).toBe(0);
  for (let i = 0; i < 6; i += 1) await page.keyboard.press('Control+z');
  await expect.poll(degrees, LONG).toEqual(['b3', '9', '1', 'b3', '5', '3', '#11', '5', '1']);
  const button = page.locator('.editor-actions [aria-label*="Cycle the Degrees"]').first();
  await button.click();
  await expect.poll(degrees, LONG).toEqual([]);
  await button.click();
  await page.locator('.statusbar-item', { hasText: 'Degrees are shown for: none' }).waitFor();
  await button.click();
  await expect.poll(async () => (await degrees()).length, LONG).toBe(9);
});
