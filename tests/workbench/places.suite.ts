/** The score and its text when both are moved about: the text closed, shown twice, or renamed; the view low, or in high contrast. */
import type { Frame } from 'playwright-core';
import { expect, test } from 'vitest';
import { contrast } from './contrast';
import { succeeds, workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();
let score: Frame;

const LESSON = `lesson "By the lock"

phrase "Gate"
  key     F major
  tempo   200 swing
  over    | Gm7 C7 | Fmaj7 |
  line    | Bb4-A G-F E-G Bb-D5 | A4 ~ . . |

phrase "Paddle"
  key     F major
  tempo   160 swing
  over    | Fmaj7 |
  line    | C5-A F-E F ~ |
`;

const tab = (name: string): ReturnType<typeof bench.page.locator> => bench.page.locator('.tabs-container .tab', { hasText: name });
/** Which of the columns that show a text has the focus, from the top left; -1: none. */
const focusedText = (): Promise<number> =>
  bench.page.evaluate(
    `[...document.querySelectorAll('.editor-group-container .monaco-editor')].findIndex((one) => one.classList.contains('focused'))`,
  ) as Promise<number>;
const playButton = (): ReturnType<Frame['locator']> => score.locator('#controls button.play');

test('a whole lesson opens with the phrase at the cursor below the controls', async () => {
  await bench.openText('lock.phrase', LESSON);
  await bench.goTo(13, 13);
  await bench.command('Phrasewright: Show the Score');
  score = await bench.score();
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await score.locator('select', { hasText: 'the whole lesson' }).selectOption('lesson');
  await score.locator('section.current h2', { hasText: 'Paddle' }).waitFor();
  await tab('Score').click({ button: 'middle' });
  await tab('Score').waitFor({ state: 'detached' });
  await bench.toText();
  await bench.command('Phrasewright: Show the Score');
  score = await bench.score();
  await score.locator('section.current svg.system').first().waitFor();
  const room = (): Promise<number> =>
    score.evaluate(
      `document.querySelector('section.current').getBoundingClientRect().top - document.querySelector('#controls .bar').getBoundingClientRect().bottom`,
    );
  await expect.poll(room).toBeGreaterThanOrEqual(0);
  await bench.toText();
});

test('what loops is marked on when its file is renamed', async () => {
  await score.locator('label', { hasText: 'Loop' }).locator('input').check();
  await playButton().click();
  await score.locator('.place.sounding').first().waitFor();
  await bench.listed(/lock\.phrase/).click();
  await bench.page.keyboard.press('F2');
  const box = bench.page.locator('.explorer-viewlet input');
  await box.fill('weir.phrase');
  await box.press('Enter');
  await tab('weir.phrase').waitFor();
  // All five notes are marked from here on: what was marked under the old name is one.
  const seen = new Set<string | null>();
  await expect
    .poll(
      async () => {
        for (const place of await score.locator('.place.sounding').all())
          seen.add(await place.getAttribute('data-note', { timeout: 1000 }).catch(() => null));
        seen.delete(null);
        return seen.size;
      },
      { timeout: 20_000, interval: 30 },
    )
    .toBe(5);
  await playButton().click();
  await expect.poll(() => playButton().innerText()).toBe('Play');
});

test('of a text that is shown twice, a note leads to the one that was last written in', async () => {
  await bench.toText();
  await bench.command('View: Split Editor Down');
  const texts = bench.page.locator('.editor-group-container .monaco-editor');
  await expect.poll(() => texts.count()).toBe(2);
  for (const nth of [1, 0]) {
    await texts.nth(nth).locator('.view-line', { hasText: 'Paddle' }).click();
    await expect.poll(focusedText).toBe(nth);
    await score.locator('section.current h2', { hasText: 'Paddle' }).waitFor();
    // A click moves the cursor, and the score may be drawn anew between the two clicks of one.
    await expect
      .poll(async () => {
        await score.locator('section.current .place').nth(1).dblclick();
        return succeeds(bench.page.locator('.statusbar-item', { hasText: '(1 selected)' }).waitFor({ timeout: 3000 }));
      })
      .toBe(true);
    await expect.poll(focusedText).toBe(nth);
  }
});

test('a score whose text was closed plays, shows what is chosen, and opens the text beside itself', async () => {
  while ((await tab('weir.phrase').count()) > 0) await tab('weir.phrase').first().click({ button: 'middle' });
  await playButton().click();
  await score.locator('.place.sounding').first().waitFor();
  await playButton().click();
  const scope = score.locator('select', { hasText: 'the whole lesson' });
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await scope.selectOption('phrase');
  await expect.poll(() => score.locator('section.phrase').count()).toBe(1);
  await scope.selectOption('lesson');
  await expect.poll(() => score.locator('section.phrase').count()).toBe(2);
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await score.locator('.place').first().click();
  await tab('weir.phrase').waitFor();
  expect(await tab('Score').isVisible()).toBe(true);
  expect(await score.locator('#controls').isVisible()).toBe(true);
  expect(await bench.page.locator('.editor-group-container').count()).toBe(2);
});

test('in a low window the controls leave the room to the score, and in high contrast all of them are seen', async () => {
  const position = (): Promise<string> => score.evaluate(`getComputedStyle(document.querySelector('#controls .bar')).position`);
  expect(await position()).toBe('sticky');
  await bench.page.setViewportSize({ width: 1280, height: 430 });
  await expect.poll(position).toBe('static');
  await bench.page.setViewportSize({ width: 1280, height: 800 });
  await expect.poll(position).toBe('sticky');
  for (const theme of ['Default High Contrast', 'Default High Contrast Light']) {
    await bench.theme(theme);
    await score.locator(`body[data-vscode-theme-id="${theme}"]`).waitFor();
    const [accent, page] = (await score.evaluate(
      `[getComputedStyle(document.querySelector('input[type="checkbox"]')).accentColor, getComputedStyle(document.body).backgroundColor]`,
    )) as [string, string];
    // WCAG 2.2, success criterion 1.4.11: parts of a control stand out 3 to 1.
    expect(contrast(accent, page), theme).toBeGreaterThanOrEqual(3);
  }
  // What is chosen is kept, and other suites begin with what it is at first.
  await score.locator('label', { hasText: 'Loop' }).locator('input').uncheck();
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await score.locator('select', { hasText: 'the whole lesson' }).selectOption('phrase');
  await expect.poll(() => score.locator('section.phrase').count()).toBe(1);
});
