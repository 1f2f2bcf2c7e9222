/** A lesson of 300 phrases, all of it in the score: what is in sight comes first, an edit shows soon, and what is read stays where it is. */
import type { Frame } from 'playwright-core';
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();
let score: Frame;

/** Seconds: five times what an idle machine is allowed, for one that is shared. */
const FIRST = 5;
const EDIT = 2.5;

const PHRASES = 300;
const LINES = [
  'D4-F A-C5 B-G F-D | E-C5 G (B)> ~', 'F4-E D-A G-B D5-F | E ~ . .', 'A4-G F-E D-F A-B | C5-B A-G E ~', 'C5-A F-D B-D5 G-F | E-G C5 ~ .', 'D4-E F-G A-G F-D | E-D C-E G ~',
];
const TEXT = `lesson "Along the canal"\n\n${Array.from({ length: PHRASES }, (_, i) =>
  `phrase "Towpath ${i + 1}"\n  key     C major\n  tempo   ${90 + (i % 70)} swing\n  over    ${'| Dm7 G7 | Cmaj7 '.repeat(1 + (i % 3))}|\n  line    ${Array.from({ length: 1 + (i % 3) }, (_, k) => `| ${LINES[(i + k) % LINES.length]!} `).join('')}|\n  say     "Number ${i + 1}."\n\n`).join('')}`;
/** The row of the 188th phrase that is its line. */
const ROW = TEXT.slice(0, TEXT.indexOf('"Towpath 188"')).split('\n').length + 4;

const current = (): ReturnType<Frame['locator']> => score.locator('section.current');
const seconds = async (wait: () => Promise<unknown>): Promise<number> => {
  const from = performance.now();
  await wait();
  return (performance.now() - from) / 1000;
};
// A click would scroll the page by itself.
const choices = (isOpen: boolean): Promise<void> => score.evaluate(`[...document.querySelectorAll('details')].find((one) => one.textContent.startsWith('What is shown')).open = ${isOpen}`);
/** Where the current phrase begins in the view, in pixels, and how high the view is. */
const place = (): Promise<{ top: number; height: number }> =>
  score.evaluate(`({ top: document.querySelector('section.current').getBoundingClientRect().top, height: window.innerHeight })`);

test('the phrases in sight are engraved first, and the current one stays where it is while others come', async () => {
  await bench.openText('canal.phrase', TEXT);
  await bench.goTo(ROW, 13);
  await bench.command('Phrasewright: Show the Score');
  score = await bench.score();
  await score.locator('h2', { hasText: 'Towpath 188' }).waitFor();
  await score.locator('svg.system').first().waitFor();
  await choices(true);
  const first = await seconds(async () => {
    await score.locator('select', { hasText: 'the whole lesson' }).selectOption('lesson');
    await current().filter({ hasText: 'Towpath 188' }).locator('svg.system').first().waitFor();
  });
  await choices(false);
  console.info(`the 188th of 300 phrases is seen after ${first.toFixed(2)} s`);
  expect(first).toBeLessThan(FIRST);
  expect(await score.locator('section.phrase').count()).toBe(PHRASES);
  await bench.page.waitForTimeout(1000);
  const places: { top: number; height: number }[] = [];
  for (let i = 0; i < 30; i += 1) {
    places.push(await place());
    await bench.page.waitForTimeout(200);
  }
  for (const { top, height } of places) {
    expect(top).toBeGreaterThanOrEqual(0);
    expect(top).toBeLessThan(height);
  }
  const tops = places.map(({ top }) => top);
  expect(Math.max(...tops) - Math.min(...tops)).toBeLessThanOrEqual(2);
  // All of it has come by now, and far more of it than is drawn.
  await expect.poll(() => score.locator('section.phrase .walkthrough:not([hidden])').count(), { timeout: 60_000 }).toBe(PHRASES);
  expect(await score.locator('section.phrase:has(svg.system)').count()).toBeLessThan(PHRASES / 2);
  await bench.picture('score-long-lesson');
});

test('an edit shows soon, and nothing moves', async () => {
  await bench.toText();
  await bench.goTo(ROW, 13);
  const before = await place();
  const figures = async (): Promise<string> => (await current().locator('.below .figure').allTextContents()).join(' ');
  const was = await figures();
  const edit = await seconds(async () => {
    await bench.page.keyboard.press('Shift+ArrowRight');
    await bench.page.keyboard.type('E');
    await expect.poll(figures, { timeout: 30_000, interval: 20 }).not.toBe(was);
  });
  console.info(`an edit of the 188th of 300 phrases is seen after ${edit.toFixed(2)} s`);
  expect(edit).toBeLessThan(EDIT);
  expect(Math.abs((await place()).top - before.top)).toBeLessThanOrEqual(2);
});

test('a larger size and a narrower page leave the current phrase where it is', async () => {
  const widths = (): Promise<number[]> => score.evaluate(`[...document.querySelectorAll('section.current svg.system')].map((one) => Math.round(one.viewBox.baseVal.width))`);
  const stays = async (change: () => Promise<unknown>): Promise<void> => {
    const [before, drawn] = [await place(), (await widths()).join()];
    await change();
    await expect.poll(async () => (await widths()).join(), { timeout: 30_000 }).not.toBe(drawn);
    // Others around it are drawn anew, too.
    await bench.page.waitForTimeout(1500);
    expect(Math.abs((await place()).top - before.top)).toBeLessThanOrEqual(2);
  };
  const size = (words: string) => async (): Promise<void> => {
    await choices(true);
    await score.locator('select', { hasText: 'for a wall' }).selectOption({ label: words });
    await choices(false);
  };
  await stays(size('for a wall'));
  await bench.picture('score-for-a-wall');
  await stays(size('usual'));
  const { width, height } = bench.page.viewportSize()!;
  await stays(() => bench.page.setViewportSize({ width: 760, height }));
  await bench.picture('score-narrow');
  await stays(() => bench.page.setViewportSize({ width, height }));
});

test('what is scrolled to is drawn', async () => {
  await score.locator('section.phrase').nth(20).evaluate((section) => (section as unknown as { scrollIntoView(): void }).scrollIntoView());
  await score.locator('section.phrase').nth(20).locator('svg.system').first().waitFor();
  await bench.toText();
  await bench.goTo(TEXT.slice(0, TEXT.indexOf('"Towpath 290"')).split('\n').length + 4, 13);
  await current().filter({ hasText: 'Towpath 290' }).locator('svg.system .place.at-cursor').waitFor();
  const { top, height } = await place();
  expect(top).toBeGreaterThanOrEqual(0);
  expect(top).toBeLessThan(height);
});
