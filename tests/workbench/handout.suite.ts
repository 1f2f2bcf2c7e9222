/** Handing out and exporting from the editor: the questions, the file, the preview beside the text, the explorer's menu. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterEach, expect, test } from 'vitest';
import { TICKS } from '../../server/src/exports/midi';
import { importMusicXml } from '../../server/src/imports/import';
import { openSnapshot } from '../../server/src/model/snapshot';
import { HAS_POPPLER, poppler } from '../outside/poppler';
import { notesIn, readSmf } from '../outside/smf';
import { musicOf } from '../property/music-of';
import { contrast } from './contrast';
import { acceptPlace, workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();

const LESSON = `lesson "Under the bridge"
about  "Two lines that land."

phrase "Near arch"
  key     C major
  over    | Dm7 G7 | Cmaj7 |
  line    | D4-F A-C5 B-G F-D | E ~ . . |
  say     "Sing it first."

phrase "Far arch"
  key     F major
  over    | Gm7 C7 | Fmaj7 |
  line    | G4-Bb D5-F E-C Bb-G | A ~ . . |
`;

const row = (words: string | RegExp) => bench.page.locator('.quick-input-list .monaco-list-row', { hasText: words }).first();
const box = () => bench.page.locator('.quick-input-box input');
const toast = (words: string | RegExp) => bench.page.locator('.notification-toast', { hasText: words }).first();
const titleIs = (words: string | RegExp): Promise<void> => bench.page.locator('.quick-input-title', { hasText: words }).waitFor();

// What a test leaves open would lie over the next one.
afterEach(async () => {
  for (let times = 0; times < 3; times += 1) await bench.page.keyboard.press('Escape');
});

/** The words that the titles of our questions begin with. */
type Does = 'Hand Out' | 'Export';

/** Opens the questions. */
async function ask(does: Does = 'Hand Out'): Promise<void> {
  await bench.askingCommand(`Phrasewright: ${does} (${does === 'Export' ? 'MusicXML, MIDI' : 'Print, PDF, HTML'})…`);
  await titleIs(new RegExp(`^${does} `));
}

/** Takes a row of the questions, and a row of what it asks. */
async function choose(question: string, answer: string | RegExp, does: Does = 'Hand Out'): Promise<void> {
  await row(question).click();
  await titleIs(new RegExp(`^(?!${does} )`));
  await row(answer).click();
  await titleIs(new RegExp(`^${does} `));
}

/** Lets the handout be written where the editor proposes; answers the file's name. */
async function write(): Promise<string> {
  await row('Write the').click();
  await expect.poll(() => box().inputValue()).toMatch(/\.(?:pdf|html|musicxml|mxl|mid)$/);
  const path = await box().inputValue();
  await bench.picture('handout-where');
  await acceptPlace(box(), path, () => existsSync(path));
  return path;
}

/** The page of the preview, once it has a handout. */
async function preview(): Promise<Frame> {
  for (let tries = 0; tries < 150; tries += 1) {
    for (const frame of bench.page.frames()) {
      const count = await frame
        .locator('#handout h2')
        .count()
        .catch(() => 0);
      if (count > 0) return frame;
    }
    await bench.page.waitForTimeout(200);
  }
  throw new Error('No preview of a handout came within thirty seconds.');
}

test('what is in the editor, saved or not, is handed out as a PDF where one says', async () => {
  await bench.openText('arches.phrase', LESSON);
  await bench.goTo(8, 12);
  await bench.page.keyboard.type('Unsaved. ');
  await ask();
  await bench.picture('handout-questions');
  expect(await bench.page.locator('.quick-input-title').innerText()).toBe('Hand Out “Under the bridge”');
  const path = await write();
  expect(path).toBe(join(bench.folder, 'arches-teacher.pdf'));
  await toast('Wrote arches-teacher.pdf.').waitFor();
  await bench.picture('handout-written');
  expect(readFileSync(path).subarray(0, 5).toString()).toBe('%PDF-');
  if (HAS_POPPLER) {
    const text = poppler('pdftotext', path, '-').toString();
    for (const words of ['Under the bridge', 'Near arch', 'Unsaved. Sing it first.', 'Far arch', 'Walk-through'])
      expect(text).toContain(words);
  }
  expect(readFileSync(join(bench.folder, 'arches.phrase'), 'utf8')).toBe(LESSON);
});

test('the preview follows what is typed and what is chosen, and the next questions stand as they were left', async () => {
  await bench.toText();
  await bench.command('Phrasewright: Preview the Handout');
  const page = await preview();
  expect(await page.locator('h2').allInnerTexts()).toEqual(['Near arch', 'Far arch']);
  expect(await page.locator('svg.system').count()).toBeGreaterThanOrEqual(2);
  await bench.picture('handout-preview');
  // The text keeps the focus, and the engraving library does not start anew: an edit is there soon.
  const figures = (): Promise<string> =>
    page
      .locator('svg.system')
      .nth(1)
      .locator('.figure')
      .allTextContents()
      .then((all) => all.join(' '));
  const before = await figures();
  await bench.goTo(13, 20);
  await bench.page.keyboard.press('Control+End');
  await bench.page.keyboard.type('  say "Far words."\n');
  await page.locator('p', { hasText: 'Far words.' }).waitFor({ timeout: 20_000 });
  expect(await figures()).toBe(before);
  await bench.goTo(13, 35);
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('C');
  await expect.poll(figures).not.toBe(before);

  await ask();
  await choose('Sheet', 'Student');
  await expect.poll(() => page.locator('main').innerText()).not.toContain('Walk-through');
  await choose('Format', 'HTML');
  await choose('What', 'The phrase at the cursor');
  await expect.poll(() => page.locator('h2').allInnerTexts()).toEqual(['Far arch']);
  await bench.picture('handout-student-preview');
  const path = await write();
  expect(path).toBe(join(bench.folder, 'arches-far-arch-student.html'));
  expect(readFileSync(path, 'utf8')).toContain('Far words.');

  // The cursor in the other phrase: the preview goes along.
  await bench.toText();
  await bench.goTo(5, 3);
  await expect.poll(() => page.locator('h2').allInnerTexts()).toEqual(['Near arch']);
  await ask();
  expect(await row('Sheet').innerText()).toContain('student: boxes to write the degrees in');
  expect(await row('Write the HTML').count()).toBe(1);
  await choose('What', 'The lesson');
  await bench.page.keyboard.press('Escape');
});

test('in several keys and parts the preview has them all; an error in a phrase is told by its name', async () => {
  const page = await preview();
  await bench.toText();
  await ask();
  await row('Parts').click();
  await row('trumpet').click();
  await bench.page.keyboard.press('Enter');
  await titleIs(/^Hand Out /);
  await choose('Keys', 'All twelve');
  await expect.poll(() => page.locator('h2').count(), { timeout: 60_000 }).toBe(24);
  expect(await page.locator('p.note').innerText()).toContain('Trumpet: write');
  await bench.page.keyboard.press('Escape');
  await ask();
  await choose('Keys', 'As written');
  await bench.page.keyboard.press('Escape');
  await bench.toText();
  await bench.goTo(7, 13);
  await bench.page.keyboard.type('xx ');
  await page
    .locator('#notices li', { hasText: '“Near arch” has an error, so its notes may not all be there' })
    .waitFor({ timeout: 30_000 });
  await bench.picture('handout-error');
  await bench.page.keyboard.press('Control+a');
  await bench.page.keyboard.type('lesson "Nothing"');
  await page.locator('#state', { hasText: 'There is no phrase to hand out' }).waitFor({ timeout: 30_000 });
});

/** Phrases enough that, in twelve keys, the last is far off when the first is done, however fast the machine is. */
const MANY = `lesson "Many arches"\n\n${Array.from({ length: 20 }, (_, i) =>
  LESSON.slice(LESSON.indexOf('phrase'))
    .replace('Near', `Near ${i + 1}`)
    .replace('Far', `Far ${i + 1}`),
).join('\n')}`;

test('what takes long tells how far it is and is called off by Cancel; nothing is written then', async () => {
  await bench.openText('many.phrase', MANY);
  // The preview would make the same pages before they are asked for.
  await bench.command('View: Close Editors in Other Groups');
  await ask();
  await choose('Sheet', 'Student');
  await choose('Keys', 'All twelve');
  await choose('Format', 'PDF');
  await row('Write the').click();
  await expect.poll(() => box().inputValue()).toMatch(/\.pdf$/);
  const path = await box().inputValue();
  const progress = bench.page.locator('.notification-toast', { hasText: 'Handing out' });
  await acceptPlace(box(), path, async () => (await progress.count()) === 1);
  await progress.filter({ hasText: /\d+ of 40 phrases/ }).waitFor();
  await bench.picture('handout-progress');
  await progress.locator('.monaco-button', { hasText: 'Cancel' }).click();
  await progress.waitFor({ state: 'detached' });
  // The same worker goes on with the next one.
  await ask();
  await choose('Keys', 'As written');
  await choose('What', 'The phrase at the cursor');
  await choose('Sheet', /^Exercises/);
  await row('set 1; takes the next set').waitFor();
  const next = await write();
  expect(next).toMatch(/many-near-1-arch-exercises\.pdf$/);
  await toast('Wrote many-near-1-arch-exercises.pdf.').waitFor();
  expect(existsSync(path)).toBe(false);
  await ask();
  await choose('What', 'The lesson');
  await bench.page.keyboard.press('Escape');
});

test('the explorer hands out a folder as one book', async () => {
  mkdirSync(join(bench.folder, 'term'));
  for (const [file, name] of [
    ['b-second', 'Second evening'],
    ['a-first', 'First evening'],
  ])
    writeFileSync(join(bench.folder, 'term', `${file}.phrase`), LESSON.replaceAll('arch', file!).replace('Under the bridge', name!));
  await bench.fromMenu(bench.listed(/^term$/), /^Hand Out \(Print, PDF, HTML\)…$/, async (menu) => {
    await bench.picture('handout-explorer');
    // The commands that are about one phrase are not offered for a folder.
    expect(await menu.filter({ hasText: /^Show the Score$/ }).count()).toBe(0);
  });
  await titleIs('Hand Out term');
  expect(await row('What').count()).toBe(0);
  await choose('Sheet', 'Student');
  await choose('Format', 'HTML');
  const path = await write();
  expect(path).toBe(join(bench.folder, 'term-student.html'));
  const titles = readFileSync(path, 'utf8').match(/(?<=<h1[^>]*>)[^<]*/g);
  expect(titles).toEqual(['First evening', 'Second evening']);
});

/** Without what neither format has: words beside the music. */
const MUSIC = LESSON.replace(/^(?:about| {2}say).*\n/gm, '');

test('a lesson goes out as MusicXML and as MIDI, and what is read back is the same music', async () => {
  await bench.openText('arches-out.phrase', MUSIC);
  await ask('Export');
  // Nothing was chosen yet.
  expect(await bench.page.locator('.quick-input-list').innerText()).not.toContain('as chosen last');
  await bench.picture('export-questions');
  expect(await bench.page.locator('.quick-input-title').innerText()).toBe('Export “Under the bridge”');
  await choose('Format', /^Compressed MusicXML/, 'Export');
  await choose('Pitch', /^Concert pitch/, 'Export');
  const score = await write();
  expect(score).toBe(join(bench.folder, 'arches-out-concert.mxl'));
  await toast('Wrote arches-out-concert.mxl.').waitFor();
  await bench.picture('export-written');
  expect(musicOf(importMusicXml(readFileSync(score), 'back').text)).toEqual(musicOf(MUSIC));

  await bench.toText();
  await bench.goTo(8, 5);
  await ask('Export');
  expect(await bench.page.locator('.quick-input-list').innerText()).toContain('as chosen last');
  await choose('Format', /^MIDI/, 'Export');
  await choose('Eighths', /^Straight/, 'Export');
  await choose('What', 'The phrase at the cursor', 'Export');
  await bench.picture('export-midi');
  const sound = await write();
  expect(sound).toBe(join(bench.folder, 'arches-out-far-arch-straight.mid'));
  const phrase = openSnapshot('', 1, MUSIC).phrases[1]!.phrase;
  expect(notesIn(readSmf(readFileSync(sound))[1]!)).toEqual(
    phrase.notes.map(({ onset, duration, midi }) => {
      const [on, off] = [onset, onset.add(duration)].map((time) => Math.round(Number(time.valueOf()) * TICKS));
      return { on, off, midi };
    }),
  );
  await ask('Export');
  await choose('What', 'The lesson', 'Export');
  await bench.page.keyboard.press('Escape');
});

test('a folder goes out lesson by lesson, and nothing is replaced unasked', async () => {
  mkdirSync(join(bench.folder, 'out'));
  const out = join(bench.folder, 'out');
  const into = join(out, 'a-first-straight.mid');
  const start = async (): Promise<void> => {
    await bench.fromMenu(bench.listed(/^term$/), /^Export \(MusicXML, MIDI\)…$/);
    await titleIs('Export term');
    await row('Write the MIDI').click();
    await titleIs('Export 2 Lessons');
    await bench.picture('export-folder');
  };
  await start();
  await acceptPlace(box(), out, () => existsSync(into));
  await toast('Wrote 2 files to out.').waitFor();
  expect(notesIn(readSmf(readFileSync(into))[1]!)).toHaveLength(18);
  expect(existsSync(join(bench.folder, 'out', 'b-second-straight.mid'))).toBe(true);
  writeFileSync(into, 'mine');
  await start();
  const question = bench.page.locator('.monaco-dialog-box', { hasText: '2 files exist already in out. Replace them?' });
  await acceptPlace(box(), out, async () => (await question.count()) === 1);
  await bench.picture('export-replace');
  await bench.page.keyboard.press('Escape');
  await question.waitFor({ state: 'detached' });
  expect(readFileSync(into, 'utf8')).toBe('mine');
});

test('the preview is there again after the editor was loaded anew, of what it showed', async () => {
  await bench.open('minor-lines.phrase');
  await ask();
  await choose('Sheet', 'Teacher');
  await bench.page.keyboard.press('Escape');
  await bench.command('Phrasewright: Preview the Handout');
  const titles = async (): Promise<string[]> => (await preview()).locator('h2').allInnerTexts();
  const LINES = [...readFileSync(join(bench.folder, 'minor-lines.phrase'), 'utf8').matchAll(/^phrase\s+"(.*)"/gm)].map(([, name]) => name);
  await expect.poll(titles, { timeout: 60_000 }).toEqual(LINES);
  await bench.picture('handout-beside');
  await bench.reload();
  await expect.poll(titles, { timeout: 90_000 }).toEqual(LINES);
  await bench.picture('handout-restored');
});

test('the preview is a sheet of paper on a page in the colours of the theme, and in high contrast its edge and its links are seen', async () => {
  // So many phrases have a table of contents, whose entries are links.
  const phrases = LESSON.slice(LESSON.indexOf('phrase'));
  await bench.openText(
    'sheet.phrase',
    `lesson "Sheet"\n\n${phrases}\n${phrases.replace('Near', 'Mid').replace('Far', 'Last')}\n${phrases.replace('Near', 'Old').replace('Far', 'New')}`,
  );
  await bench.command('Phrasewright: Preview the Handout');
  const page = await preview();
  await page.locator('nav a').first().waitFor();
  for (const [theme, kind, name] of [
    ['Dark Modern', 'vscode-dark', 'handout-dark'],
    ['Default High Contrast', 'vscode-high-contrast', 'handout-high-contrast'],
    ['Default High Contrast Light', 'vscode-high-contrast-light', 'handout-high-contrast-light'],
    ['Light Modern', 'vscode-light', 'handout-light'],
  ] as const) {
    await bench.theme(theme);
    await page.locator(`body.${kind}`).waitFor();
    await page.locator('nav a').first().focus();
    const colours = (await page.evaluate(`(() => {
      const style = (selector) => getComputedStyle(document.querySelector(selector));
      const probe = document.body.appendChild(document.createElement('i'));
      probe.style.color = 'var(--vscode-editor-background)';
      const editor = getComputedStyle(probe).color;
      probe.remove();
      return {
        editor, html: style('html').backgroundColor, body: style('body').backgroundColor, edge: style('#handout').borderTopColor,
        paper: style('#handout').backgroundColor, ink: style('#handout').color, link: style('nav a').color, ring: style('nav a').outlineColor,
        ringStyle: style('nav a').outlineStyle,
      };
    })()`)) as Record<'editor' | 'html' | 'body' | 'edge' | 'paper' | 'ink' | 'link' | 'ring' | 'ringStyle', string>;
    await bench.picture(name);
    expect([colours.html, colours.body], theme).toEqual([colours.editor, colours.editor]);
    expect([colours.paper, colours.ink, colours.link], theme).toEqual(['rgb(255, 255, 255)', 'rgb(0, 0, 0)', 'rgb(0, 0, 0)']);
    expect(colours.ringStyle, theme).not.toBe('none');
    // WCAG 2.2, success criterion 1.4.11: what one must see to use a page stands out 3 to 1.
    expect(contrast(colours.ring, colours.paper), theme).toBeGreaterThanOrEqual(3);
    if (theme.includes('High Contrast'))
      expect(Math.max(contrast(colours.edge, colours.body), contrast(colours.paper, colours.body)), theme).toBeGreaterThanOrEqual(3);
  }
  // All that there is of it is within the page.
  expect(await page.evaluate('document.documentElement.scrollWidth <= document.documentElement.clientWidth')).toBe(true);
});
