/**
 * The main job as a writer does it: type a phrase, see it judged, read why, repair it; then embellish it from the keyboard: an enclosure, the
 * steps of a line, all twelve keys, all safe fixes, and one undo for each.
 */
import { expect, test } from 'vitest';
import { workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();

const LESSON = 'phrase "Harbour steps"\n  key     C major\n  over    | Dm7 G7 | Cmaj7 |\n  line    | ';
const LINE = 'phrase "Slipway"\n  key     C major\n  over    | Dm7       G7     | Cmaj7   |\n  line    | D4-E F-A B-D G-F | E ~ C ~ |\n';

test('an avoid note on beat 1 is flagged, explained and repaired', async () => {
  await bench.openText('lesson.phrase', LESSON);
  await bench.goTo(4, 13);
  await bench.page.keyboard.type('D4 F A G | F-A C-E G ~ |');
  await bench.squiggles('warning').first().waitFor();
  expect(await bench.squiggles('warning').count()).toBe(1);
  await bench.picture('clash');

  const hover = await bench.hoverWord(4, 'F', 2, 'F4 is');
  expect(hover).toContain('F4 is the 11 of Cmaj7 (C ionian): perfect eleventh, avoid note.');
  expect(hover).toContain('Bar 2, beat 1: a strong place.');
  expect(hover).toContain('a half step above the third. Let it fall to E');
  expect(hover).toContain('Flagged: within two beats it neither moves by step to a chord tone');
  await bench.page.locator('.monaco-hover', { hasText: /Quick Fix/ }).waitFor();
  await bench.picture('hover');

  await bench.page.keyboard.press('Escape');
  await bench.goTo(4, 24);
  const titles = await bench.openActions();
  expect(titles.some((title) => title.includes('Move F down to the chord tone E'))).toBe(true);
  await bench.picture('enclosure');
  await bench.chooseAction('Enclose E: F-D E');
  await bench.squiggles('warning').first().waitFor({ state: 'detached' });
  expect(await bench.saved('lesson.phrase')).toBe(`${LESSON}D4 F A F-D | E-A C-E G ~ |`);
  await expect.poll(async () => (await bench.degrees()).join(' ')).toMatch(/^1 b3 .*b7 .*3 .*13/);
  // The line above the phrase follows last.
  await bench.page.locator('.codelens-decoration', { hasText: 'Nothing clashes' }).waitFor();
  await bench.picture('repaired');
});

test('the menu of a note is about that note; where the cursor has nothing of its own, the fixes of its line say bar and beat', async () => {
  await bench.openText(
    'elsewhere.phrase',
    'phrase "Quay"\n  key     C major\n  over    | Dm7              | G7               | Cmaj7   |\n  line    | D4-F A-C5 B-A G-F | G-B D-F E-D B-G | F ~ ~ . |\n',
  );
  await bench.squiggles('warning').first().waitFor();
  await bench.goTo(4, 18);
  const own = await bench.openActions();
  expect(own.some((title) => title.includes('A'))).toBe(true);
  expect(own.filter((title) => /chord tone/.test(title))).toEqual([]);
  await bench.page.keyboard.press('Escape');
  await bench.goTo(4, 60);
  expect((await bench.openActions()).filter((title) => /chord tone/.test(title))).toEqual([
    'Bar 3, beat 1: move F down to the chord tone E',
    'Bar 3, beat 1: move F up to the chord tone G',
  ]);
  await bench.page.keyboard.press('Escape');
});

test('degrees stand above the notes, and formatting aligns the rows', async () => {
  await bench.openText(
    'format.phrase',
    'phrase "Slack water"\n key F major\n over | Gm7 C7 | Fmaj7 |\n line | Bb4-A G-D E-C Bb-G | A ~ . . |\n',
  );
  await expect.poll(async () => (await bench.degrees()).join(' ')).toMatch(/^b3 9 1 5 /);
  await bench.command('Format Document');
  await bench.page
    .locator('.view-line', { hasText: /key\s{5}F/ })
    .first()
    .waitFor();
  expect(await bench.saved('format.phrase')).toBe(
    'phrase "Slack water"\n  key     F major\n  over    | Gm7       C7       | Fmaj7   |\n  line    | Bb4-A G-D E-C Bb-G | A ~ . . |\n',
  );
});

test('a chord that cannot be read is an error whose fix writes the nearest one', async () => {
  await bench.openText('typo.phrase', 'phrase "Typo"\n  over | Cmja7 |\n  line | E4 G ~ . |\n');
  await bench.squiggles('error').first().waitFor();
  await bench.goTo(2, 11);
  const titles = await bench.openActions();
  expect(titles.some((title) => title.includes('Write Cmaj7'))).toBe(true);
  await bench.chooseAction('Write Cmaj7');
  await bench.squiggles('error').first().waitFor({ state: 'detached' });
  expect(await bench.saved('typo.phrase')).toContain('| Cmaj7 |');
});

test('the walk-through stands beside the text as a document, and the degrees row is written at the phrase’s name', async () => {
  await bench.open('lanterns-on-the-quay.phrase');
  await bench.goTo(30, 5);
  await bench.command('Phrasewright: Explain the Phrase as Text');
  const beside = bench.page.locator('.editor-group-container').nth(1).locator('.view-lines');
  await beside.getByText('Boathouse bench').waitFor();
  // A narrow column breaks lines after hyphens too.
  const said = (await beside.innerText()).replace(/\s+/g, '');
  expect(said).toContain('Bar1:Bb-A-G-Dfallsb3-2-1-5ofGm7.');
  expect(said).toContain('BbandGencloseA,thethirdofFmaj7');
  await bench.picture('walkthrough');
  await bench.page.keyboard.press('Control+1');
  await bench.openText(
    'numbers.phrase',
    'phrase "Numbers"\n  key     C major\n  over    | Dm7 G7  | Cmaj7   |\n  line    | D4 F A G | E ~ C ~ |\n',
  );
  await bench.goTo(1, 3);
  await bench.openActions();
  await bench.chooseAction('Write the degrees row');
  await bench.page.locator('.view-line', { hasText: 'degrees' }).first().waitFor();
  expect(await bench.saved('numbers.phrase')).toBe(
    'phrase "Numbers"\n  key     C major\n  over    | Dm7 G7  | Cmaj7   |\n  line    | D4 F A G | E ~ C ~ |\n  degrees | 1 b3 9 1 | 3 * 1 * |\n',
  );
});

// ── Embellish, vary, fix ───────────────────────────────────────────────────────────────────────────────────────────────────

/** Waits until the server has read the file that is open: its degrees stand after the notes. */
async function untilRead(): Promise<void> {
  await expect.poll(async () => (await bench.degrees()).join(' ')).toMatch(/^1 9 /);
}

/** Moves down the open menu to the entry that starts so, and takes it. */
async function takeByKeyboard(title: string): Promise<void> {
  const titles = await bench.openActions();
  const index = titles.findIndex((one) => one.startsWith(title));
  expect(index, titles.join('\n')).toBeGreaterThanOrEqual(0);
  // The menu has headings, which the arrow keys skip.
  const focused = (): Promise<string> => bench.page.locator('.action-widget .monaco-list-row.focused').innerText();
  for (let tries = 0; tries < titles.length && !(await focused()).trim().startsWith(title); tries += 1)
    await bench.page.keyboard.press('ArrowDown');
  await bench.page.keyboard.press('Enter');
  await bench.page.locator('.action-widget .monaco-list-row').first().waitFor({ state: 'hidden' });
}

test('an enclosure, taken with the arrow keys, is undone in one step', async () => {
  await bench.openText('slipway.phrase', LINE);
  await untilRead();
  await bench.goTo(4, 32);
  await takeByKeyboard('Enclose E: F-D E');
  await expect.poll(() => bench.saved('slipway.phrase')).toContain('B-D F-D | E ~ C ~');
  await bench.page.keyboard.press('Control+z');
  await expect.poll(() => bench.saved('slipway.phrase')).toBe(LINE);
});

test('the list of all forms: the score shows the one it stands on, Escape leaves all as it was, Enter takes it in one step', async () => {
  const figures = async (): Promise<string> => (await score.locator('.below .figure').allTextContents()).join(' ');
  const stands = (): Promise<string> => bench.page.locator('.quick-input-list .monaco-list-row.focused').innerText();
  const says = (): Promise<string> => score.locator('#choice').innerText();
  const openList = async (): Promise<void> => {
    await takeByKeyboard('More …');
    await bench.page.locator('.quick-input-list .monaco-list-row', { hasText: 'Enclose E' }).first().waitFor();
  };
  /** Moves down the list to a form that starts so. */
  const moveTo = async (title: string): Promise<void> => {
    for (let tries = 0; tries < 30 && !(await stands()).includes(title); tries += 1) await bench.page.keyboard.press('ArrowDown');
    expect(await stands()).toContain(title);
  };
  await bench.openText('list.phrase', LINE);
  await untilRead();
  await bench.goTo(4, 32);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  const asItIs = '1 9 ♭3 5 3 5 1 ♭7 3 1';
  await expect.poll(figures).toBe(asItIs);
  await bench.toText();
  await bench.goTo(4, 32);
  await openList();
  // The first form is shown without a key pressed; each step shows another.
  await expect.poll(says).toMatch(/^As it would be: Enclose E: F-D E/);
  await expect.poll(figures).toBe('1 9 ♭3 5 3 5 ♭7 5 3 1');
  await moveTo('Enclose E: F-Eb E');
  await expect.poll(says).toBe('As it would be: Enclose E: F-Eb E, in place of G-F');
  await expect.poll(figures).toBe('1 9 ♭3 5 3 5 ♭7 ♭13 3 1');
  await bench.picture('choice');
  await bench.page.keyboard.press('Escape');
  await expect.poll(figures).toBe(asItIs);
  expect(await says()).toBe('');
  expect(await bench.saved('list.phrase')).toBe(LINE);
  await openList();
  await moveTo('Enclose E: F-Eb E');
  await bench.page.keyboard.press('Enter');
  await expect.poll(() => bench.saved('list.phrase')).toContain('B-D F-Eb | E ~ C ~');
  await expect.poll(says).toBe('');
  await expect.poll(figures).toBe('1 9 ♭3 5 3 5 ♭7 ♭13 3 1');
  await bench.page.keyboard.press('Control+z');
  await expect.poll(() => bench.saved('list.phrase')).toBe(LINE);
  await expect.poll(figures).toBe(asItIs);
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
  await bench.page
    .locator('.view-line', { hasText: /key\s+Eb/ })
    .first()
    .waitFor();
  expect(await bench.saved('keys.phrase')).toContain('| Fm7');
});

test('all safe fixes at once', async () => {
  await bench.openText('fixes.phrase', 'phrase "Fixes"\n  over | Dm7 |\n  line | D4 F A C |\n  degrees | 1 3 5 6 |\n');
  await bench.squiggles('error').first().waitFor();
  await bench.goTo(3, 3);
  await bench.command('Fix All');
  await bench.squiggles('error').first().waitFor({ state: 'detached' });
  expect(await bench.saved('fixes.phrase')).toContain('| 1 3 5 b7 |');
});

test('the status item says how many findings there are', async () => {
  await bench.openText('status.phrase', 'phrase "Two"\n  key C major\n  over | Cmaj7 | Cmaj7 |\n  line | F4-A C-E G ~ | F4-A C-E G ~ |\n');
  await bench.page.locator('.statusbar-item', { hasText: 'Phrasewright: 2' }).waitFor();
  await bench.page.keyboard.press('Control+Home');
  for (const shown of ['notes with a finding', 'none', 'all notes']) {
    await bench.command('Phrasewright: Cycle the Degrees Shown Above Notes');
    await bench.page.locator('.statusbar-item', { hasText: `Degrees are shown for: ${shown}` }).waitFor();
  }
});
