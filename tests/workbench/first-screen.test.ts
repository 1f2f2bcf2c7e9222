/** The first screen and the first lesson: a sample with its score, no questions; an empty file that offers to begin; menus. */
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile('first-start');

test('the first sample is open with its score beside it, of its first phrase, and nothing is asked', async () => {
  await bench.page.locator('.tabs-container .tab', { hasText: 'first-two-five-one.phrase' }).waitFor();
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  expect(await score.locator('section.phrase').count()).toBe(1);
  // What asks does so some seconds after the start.
  await bench.page.waitForTimeout(5000);
  expect(await bench.page.locator('.notification-toast').allInnerTexts()).toEqual([]);
  await bench.picture('first-screen');
});

test('between phrases the next one is shown, and the walk-through is of it', async () => {
  const score = await bench.score();
  await bench.openText(
    'between.phrase',
    'lesson "By the weir"\n\nphrase "Sluice"\n  over | Dm7 |\n  line | D4 F A C5 |\n\nchanges turn = | G7 |\n\nphrase "Lock"\n  over turn\n  line | B4 G F D |\n\ncell climb = 1-2\n',
  );
  for (const [line, name] of [
    [1, 'Sluice'],
    [7, 'Lock'],
    [5, 'Sluice'],
    [13, 'Lock'],
  ] as const) {
    await bench.goTo(line, 1);
    await score.locator('h2', { hasText: name }).waitFor();
  }
  // The walk-through stands under the score, and follows an edit.
  await bench.goTo(5, 10);
  await bench.command('Phrasewright: Explain the Phrase under the Score');
  const walkthrough = score.locator('.walkthrough');
  await expect.poll(() => walkthrough.innerText()).toContain('Bar 1: D-F-A-C is 1-b3-5-b7 of Dm7');
  expect(await bench.page.locator('.editor-group-container').count()).toBe(2);
  await bench.picture('first-walkthrough');
  // It has the focus, for the eye and for a screen reader.
  await expect.poll(() => score.evaluate('document.activeElement.getAttribute("aria-label")')).toBe('Walk-through of Sluice');
  await bench.toText();
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('E');
  await expect.poll(() => walkthrough.innerText()).toContain('E-F-A-C climbs 2-b3-5-b7');
  await bench.page.keyboard.press('Control+z');
  await bench.page.keyboard.press('Control+z');
  const choices = (isOpen: boolean): Promise<void> =>
    score.evaluate(`[...document.querySelectorAll('details')].find((one) => one.textContent.startsWith('What is shown')).open = ${isOpen}`);
  await choices(true);
  const box = score.locator('label', { hasText: 'Walk-through' }).locator('input');
  await box.uncheck();
  expect(await walkthrough.isVisible()).toBe(false);
  await box.check();
  await walkthrough.waitFor();
  await choices(false);
  // As a text of its own it takes the place of the score, and opens no third column.
  await bench.toText();
  await bench.goTo(1, 1);
  await bench.command('Phrasewright: Explain the Phrase as Text');
  await bench.page.locator('.view-lines', { hasText: /^\s*Sluice/ }).waitFor();
  // By its name the editor knows that it has no numbers of lines.
  await bench.page.locator('.tabs-container .tab', { hasText: /^Walk-through of the Phrase$/ }).waitFor();
  await expect.poll(() => bench.page.locator('.editor-group-container').nth(1).locator('.line-numbers').count()).toBe(0);
  await bench.picture('first-walkthrough-text');
  expect(await bench.page.locator('.editor-group-container').count()).toBe(2);
  await bench.openText('empty.phrase', '\n');
  await bench.page.locator('.view-lines', { hasText: /This\sfile\shas\sno\sphrase\syet/ }).waitFor();
  await bench.command('Phrasewright: Show the Score');
});

test('an empty file offers to begin a lesson, in the text, in its title and in the score', async () => {
  const score = await bench.score();
  await bench.toText();
  await bench.openText('begun.phrase', '');
  const offer = bench.page.locator('.codelens-decoration a', { hasText: 'Begin a lesson' });
  await offer.first().waitFor();
  await score.locator('#begin').waitFor();
  expect(await score.locator('#notice').innerText()).toMatch(/^This file has no phrase yet\./);
  expect(await bench.page.locator('.editor-actions a[aria-label^="New Lesson"]:visible').count()).toBe(1);
  await bench.picture('first-empty');
  await offer.first().click();
  await bench.page.locator('.view-line', { hasText: /First\sphrase/ }).waitFor();
  // Each field is filled and left with the tab key.
  await bench.page.keyboard.type('Evening');
  await bench.page.keyboard.press('Tab');
  await bench.page.keyboard.type('Ferry');
  await bench.page.keyboard.press('Tab');
  await score.locator('h2', { hasText: 'Ferry' }).waitFor();
  await score.locator('svg.system').first().waitFor();
  await bench.picture('first-begun');
  const text = await bench.saved('begun.phrase');
  expect(text).toContain('lesson "Evening"');
  expect(text).toContain('phrase "Ferry"');
  await expect.poll(() => offer.count()).toBe(0);
  expect((await bench.squiggles('error').count()) + (await bench.squiggles('warning').count())).toBe(0);
});

test('New File lists a lesson, and the menus of text and files have our commands', async () => {
  await bench.askingCommand('Create: New File...');
  const entry = bench.page.locator('.quick-input-list .monaco-list-row', { hasText: 'New Lesson' });
  await entry.waitFor();
  await bench.page.keyboard.press('Escape');
  await bench.goTo(8, 14);
  const menu = await bench.openMenu(bench.page.locator('.monaco-editor.focused .view-line', { hasText: 'Dm7' }), /^Show the Score$/);
  await bench.picture('first-menu');
  expect((await menu.allInnerTexts()).filter((words) => /Phrase|Score/.test(words))).toEqual(
    expect.arrayContaining(['Play the Phrase', 'Show the Score', 'Explain the Phrase under the Score', 'Vary the Phrase']),
  );
  await bench.page.keyboard.press('Escape');
  await bench.page.keyboard.press('Escape');
  await bench.openMenu(bench.listed(/between\.phrase/), /^Show the Score$/);
  await bench.page.keyboard.press('Escape');
});

test('a first lesson is shown step by step, and its first step begins one', async () => {
  // A narrow page leaves its pictures out.
  await bench.command('View: Close All Editors');
  await bench.page.setViewportSize({ width: 1600, height: 900 });
  await bench.askingCommand('Welcome: Open Walkthrough...');
  await bench.page.locator('.quick-input-list .monaco-list-row', { hasText: 'Write a First Lesson' }).click();
  const page = bench.page.locator('.gettingStartedContainer');
  const steps = page.locator('.getting-started-step');
  await steps.first().waitFor();
  expect((await steps.locator('.step-title').allInnerTexts()).map((title) => title.trim())).toEqual([
    'Begin a lesson',
    'Read what is told of a note',
    'Repair and embellish',
    'See and hear it',
    'Hand it out',
  ]);
  await bench.picture('first-lesson-begin');
  await steps.nth(1).click();
  await page.locator('img[alt^="The hover of an F on beat 1"]').waitFor();
  await bench.picture('first-lesson-read');
  await steps.last().click();
  await page.locator('img[alt="A page of a teacher’s sheet."]').waitFor();
  await bench.picture('first-lesson-hand');
  await steps.first().click();
  await page
    .getByRole('button', { name: 'New Lesson' })
    .or(page.getByRole('link', { name: 'New Lesson' }))
    .first()
    .click();
  await bench.page
    .locator('.view-line', { hasText: /First\sphrase/ })
    .first()
    .waitFor();
});
