/** The workshop from the keyboard: an enclosure, the steps of a line, all twelve keys, all safe fixes, and one undo for each. */
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();

const LINE = 'phrase "Slipway"\n  key     C major\n  over    | Dm7       G7     | Cmaj7   |\n  line    | D4-E F-A B-D G-F | E ~ C ~ |\n';

/** Waits until the server has read the file that is open: its degrees stand after the notes. */
async function untilRead(): Promise<void> {
  await bench.page.locator('.view-line', { hasText: /D4.*1.*E.*9/ }).first().waitFor();
}

/** Moves down the open menu to the entry that starts so, and takes it. */
async function takeByKeyboard(title: string): Promise<void> {
  const titles = await bench.openActions();
  const index = titles.findIndex((one) => one.startsWith(title));
  expect(index, titles.join('\n')).toBeGreaterThanOrEqual(0);
  // The menu has headings, which the arrow keys skip.
  const focused = (): Promise<string> => bench.page.locator('.action-widget .monaco-list-row.focused').innerText();
  for (let tries = 0; tries < titles.length && !(await focused()).trim().startsWith(title); tries += 1) await bench.page.keyboard.press('ArrowDown');
  await bench.page.keyboard.press('Enter');
  await bench.page.locator('.action-widget .monaco-list-row').first().waitFor({ state: 'hidden' });
}

test('an enclosure, taken with the arrow keys, is undone in one step', async () => {
  await bench.openText('slipway.phrase', LINE);
  await untilRead();
  await bench.goTo(4, 32);
  await takeByKeyboard('Wrap E in an enclosure above–below (chromatic)');
  await bench.page.locator('.view-line', { hasText: 'D#' }).first().waitFor();
  const wrapped = await bench.saved('slipway.phrase');
  expect(wrapped).toMatch(/F-D# {0,3}\| E ~ C ~|F-D# \| E/);
  await bench.page.keyboard.press('Control+z');
  await bench.page.locator('.view-line', { hasText: 'D#' }).first().waitFor({ state: 'detached' });
  expect(await bench.saved('slipway.phrase')).toBe(LINE);
});

test('the steps from the skeleton to the line are phrases of their own', async () => {
  await bench.openText('steps.phrase', LINE);
  await untilRead();
  await bench.goTo(4, 14);
  await bench.command('Phrasewright: Write the Steps from Skeleton to Line');
  await bench.page.locator('.view-line', { hasText: 'step 1 of' }).first().waitFor();
  const text = await bench.saved('steps.phrase');
  expect(text).toContain('say     "Step: the skeleton."');
  expect(text.endsWith(LINE)).toBe(true);
  await bench.picture('steps');
  await bench.page.keyboard.press('Control+z');
  await bench.page.locator('.view-line', { hasText: 'step 1 of' }).first().waitFor({ state: 'detached' });
  expect(await bench.saved('steps.phrase')).toBe(LINE);
});

test('all twelve keys, and a key of one’s choice, from the palette', async () => {
  await bench.openText('keys.phrase', LINE);
  await untilRead();
  await bench.goTo(4, 14);
  await bench.askingCommand('Phrasewright: Copy the Phrase to All Twelve Keys');
  await bench.page.locator('.quick-input-list .monaco-list-row', { hasText: 'round the cycle of fifths' }).waitFor();
  await bench.page.keyboard.press('Enter');
  await bench.page.locator('.view-line', { hasText: 'Slipway (F)' }).first().waitFor();
  const text = await bench.saved('keys.phrase');
  expect(text.match(/^phrase /gm)!.length).toBe(12);
  expect(text).toContain('phrase "Slipway (Db)"');
  await bench.picture('keys');
  await bench.page.keyboard.press('Control+z');
  await bench.goTo(4, 14);
  await bench.askingCommand('Phrasewright: Transpose the Phrase to a Key');
  await bench.page.locator('.quick-input-list .monaco-list-row', { hasText: 'Eb major' }).waitFor();
  await bench.page.keyboard.type('Eb major');
  await bench.page.keyboard.press('Enter');
  await bench.page.locator('.view-line', { hasText: /key\s+Eb/ }).first().waitFor();
  expect(await bench.saved('keys.phrase')).toContain('| Fm7');
});

test('all safe fixes at once', async () => {
  await bench.openText('fixes.phrase', 'phrase "Fixes"\n  over | Dm7 |\n  line | D4 F A C |\n  degrees | 1 3 5 6 |\n');
  await bench.squiggles('error').first().waitFor();
  await bench.goTo(3, 3);
  await bench.command('Fix All');
  await bench.squiggles('error').first().waitFor({ state: 'detached' });
  expect(await bench.saved('fixes.phrase')).toContain('| 1 3 5 7 |');
});
