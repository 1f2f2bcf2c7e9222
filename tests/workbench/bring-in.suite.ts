/** Bringing in scores in the editor: files from the dialog, from the explorer's menu, a folder, the question for the part, what is told. */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { zipSync } from 'fflate';
import { afterEach, expect, test } from 'vitest';
import { acceptPlace, succeeds, workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();

const row = (words: string | RegExp) => bench.page.locator('.quick-input-list .monaco-list-row', { hasText: words }).first();
const box = () => bench.page.locator('.quick-input-box input');
const toast = (words: string | RegExp) => bench.page.locator('.notification-toast', { hasText: words }).first();
const listed = (name: string) => bench.listed(new RegExp(`^${name.replaceAll('.', '\\.')}$`));
const tab = (name: string) => bench.page.locator('.tabs-container .tab.active', { hasText: name });
const path = (...names: string[]): string => join(bench.folder, ...names);

const note = (step: string, octave: number, extra = ''): string =>
  `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration><type>quarter</type>${extra}</note>`;
const SLUR = '<notations><slur type="start" number="1"/></notations>';
const chord = (step: string, kind: string): string => `<harmony><root><root-step>${step}</root-step></root><kind>${kind}</kind></harmony>`;
const part = (id: string, notes: string): string =>
  `<part id="${id}"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${chord('D', 'minor-seventh')}${notes}</measure></part>`;
const score = (title: string, ...names: string[]): string =>
  `<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>${title}</work-title></work><part-list>${names.map((name, i) => `<score-part id="P${i + 1}"><part-name>${name}</part-name></score-part>`).join('')}</part-list>${names.map((_, i) => part(`P${i + 1}`, [note('D', 4 + i, i === 0 ? SLUR : ''), note('F', 4 + i), note('A', 4 + i), note('C', 5 + i)].join(''))).join('')}</score-partwise>`;
const mxl = (xml: string): Uint8Array =>
  zipSync({
    'META-INF/container.xml': new TextEncoder().encode(
      '<container><rootfiles><rootfile full-path="score.musicxml"/></rootfiles></container>',
    ),
    'score.musicxml': new TextEncoder().encode(xml),
  });

afterEach(async () => {
  await bench.page.mouse.move(600, 650);
  await bench.askingCommand('Notifications: Clear All Notifications');
  await bench.page.locator('.notification-toast').first().waitFor({ state: 'detached' });
});

/** A file of the explorer, once the editor has heard of it. Of one written before the editor watched its folder it hears nothing but that it is new: so it is made anew. */
async function put(name: string, content: string | Uint8Array): Promise<void> {
  for (let tries = 0; tries < 5; tries += 1) {
    writeFileSync(path(name), content);
    const isListed = await succeeds(listed(name).waitFor({ timeout: 4000 }));
    if (isListed) return;
    rmSync(path(name));
    // Gone and there again at once is, to the editor, only changed.
    await bench.page.waitForTimeout(2000);
  }
  throw new Error(`${name} did not come into the explorer.`);
}

function bringInFromMenu(name: string, picture?: string, words = /^Bring In \(Import MusicXML\)…$/): Promise<void> {
  return bench.fromMenu(listed(name), words, async () => {
    if (picture !== undefined) await bench.picture(picture);
  });
}

test('a score that is chosen becomes a lesson beside it, which opens; what was left out is told', async () => {
  // By then the extension is there.
  await bench.openText('other.phrase', 'lesson "Other"\n');
  await bench.page
    .locator('.statusbar-item', { hasText: /Phrase/ })
    .first()
    .waitFor();
  await put('tune.musicxml', score('Small boat', 'Melody'));
  await bench.askingCommand('Phrasewright: Bring In (Import MusicXML)…');
  await expect.poll(() => box().inputValue()).toMatch(/samples\/$/);
  await bench.picture('bring-in-which');
  await acceptPlace(box(), path('tune.musicxml'), () => existsSync(path('tune.phrase')));
  await tab('tune.phrase').waitFor();
  await toast('Brought in tune.musicxml as tune.phrase. Measure 1: left out: slurs.').waitFor();
  await bench.degrees();
  await bench.picture('bring-in-told');
  const text = readFileSync(path('tune.phrase'), 'utf8');
  expect(text).toContain('lesson "Small boat"');
  expect(text).toMatch(/over\s+\| Dm7/);
  expect(text).toMatch(/line\s+\| D4 F A C \|/);
  await toast('Brought in').locator('.monaco-button', { hasText: 'Show the Report' }).click();
  await bench.page.locator('.panel .view-lines', { hasText: 'tune.musicxml: measure 1: left out: slurs' }).waitFor();
  await bench.picture('bring-in-report');
  await bench.command('View: Hide Panel');
});

test('from the explorer: the part is asked for, and what is there is not overwritten', async () => {
  writeFileSync(path('duet.phrase'), 'lesson "Mine"\n');
  await put('duet.mxl', mxl(score('Two boats', 'Flute', 'Violin')));
  await bringInFromMenu('duet.mxl', 'bring-in-explorer');
  await row('Violin').waitFor();
  expect(await bench.page.locator('.quick-input-title').innerText()).toBe('The Part of duet.mxl to Bring In');
  expect(await row('Violin').innerText()).toContain('1 measure, chord symbols');
  await bench.picture('bring-in-part');
  await row('Violin').click();
  await tab('duet-2.phrase').waitFor();
  await toast('Brought in duet.mxl as duet-2.phrase. Left out: the part Flute.').waitFor();
  expect(readFileSync(path('duet-2.phrase'), 'utf8')).toMatch(/line\s+\| D5 F A C \|/);
  expect(readFileSync(path('duet.phrase'), 'utf8')).toBe('lesson "Mine"\n');
});

test('the question left, nothing is made', async () => {
  await bringInFromMenu('duet.mxl');
  await row('Violin').waitFor();
  await bench.page.keyboard.press('Escape');
  await row('Violin').waitFor({ state: 'hidden' });
  await bench.page.locator('.notification-toast', { hasText: 'Bringing in' }).waitFor({ state: 'detached' });
  expect(existsSync(path('duet-3.phrase'))).toBe(false);
});

test('of a folder all scores are brought in; one that cannot be read is named, and the same parts are asked for once', async () => {
  mkdirSync(path('old'));
  writeFileSync(path('old', 'a.xml'), score('A', 'Flute', 'Violin'));
  writeFileSync(path('old', 'b.XML'), score('B', 'Flute', 'Violin'));
  writeFileSync(path('old', 'broken.musicxml'), '<score-partwise><part-list>');
  writeFileSync(path('old', 'notes.txt'), 'no score');
  await listed('old').waitFor();
  await bringInFromMenu('old');
  await row('Flute').click();
  await toast('broken.musicxml was not brought in: ').waitFor();
  await toast('Brought in 2 scores, each as a lesson beside it.').waitFor();
  await bench.picture('bring-in-folder');
  expect(['a', 'b', 'broken', 'notes'].map((name) => existsSync(path('old', `${name}.phrase`)))).toEqual([true, true, false, false]);
});

test('by choice with chords of one’s own and other phrases: what is wrong with chords is said while they are written', async () => {
  const four = ['C', 'D', 'E', 'F']
    .map(
      (step, i) =>
        `<measure number="${i + 1}">${i === 0 ? '<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>' : ''}<note><pitch><step>${step}</step><octave>5</octave></pitch><duration>4</duration></note></measure>`,
    )
    .join('');
  await put(
    'plain.musicxml',
    `<?xml version="1.0"?><score-partwise><part-list><score-part id="P1"><part-name>Melody</part-name></score-part></part-list><part id="P1">${four}</part></score-partwise>`,
  );
  await bringInFromMenu('plain.musicxml', 'bring-in-with-menu', /^Bring In with Chords or Bars \(Import MusicXML\)…$/);
  const title = bench.page.locator('.quick-input-title');
  await expect.poll(() => title.innerText()).toBe('Bring In plain.musicxml with');
  await row('Bars a phrase').click();
  await expect.poll(() => title.innerText()).toBe('Bars a Phrase');
  const message = bench.page.locator('.quick-input-message');
  await box().fill('65');
  await expect.poll(() => message.innerText()).toContain('A phrase has 1 to 64 bars.');
  await box().fill('2');
  await box().press('Enter');
  await row('Chords').click();
  await expect.poll(() => title.innerText()).toBe('Chords in Place of Those of the Score');
  await box().fill('| Am7 | Dq7 |');
  await expect.poll(() => message.innerText()).toContain('“Dq7”: ');
  expect(await message.innerText()).not.toContain('--chords');
  await bench.picture('bring-in-with-chords');
  // What is wrong is not taken.
  await box().press('Enter');
  await box().fill('| Am7 D7 | Gmaj7 |');
  await expect.poll(() => message.innerText()).not.toContain('Dq7');
  await box().press('Enter');
  await row('| Am7 D7 | Gmaj7 |').waitFor();
  await bench.picture('bring-in-with');
  await row('Bring In').click();
  await tab('plain.phrase').waitFor();
  const text = readFileSync(path('plain.phrase'), 'utf8');
  expect(text.match(/^phrase/gm)).toHaveLength(2);
  expect(text.match(/over\s+\| Am7 D7 \| Gmaj7 \|/g)).toHaveLength(2);
});
