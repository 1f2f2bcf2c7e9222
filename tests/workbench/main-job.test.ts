/** The main job as a writer does it: type a phrase, see it judged, read why, repair it. */
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();

const LESSON = 'phrase "Harbour steps"\n  key     C major\n  over    | Dm7 G7 | Cmaj7 |\n  line    | ';

test('an avoid note on beat 1 is flagged, explained and repaired', async () => {
  await bench.openText('lesson.phrase', LESSON);
  await bench.goTo(4, 13);
  await bench.page.keyboard.type('D4 F A G | F-A C-E G ~ |');
  await bench.squiggles('warning').first().waitFor();
  expect(await bench.squiggles('warning').count()).toBe(1);
  await bench.picture('clash');

  const hover = await bench.hoverWord(4, 'F', 2);
  expect(hover).toContain('F4 is the 11 of Cmaj7 (C ionian): perfect eleventh, avoid note.');
  expect(hover).toContain('Bar 2, beat 1: a strong place.');
  expect(hover).toContain('a half step above the third. Let it fall to E');
  expect(hover).toContain('Flagged: within two beats it neither moves by step to a chord tone');
  await bench.picture('hover');

  await bench.page.keyboard.press('Escape');
  await bench.goTo(4, 24);
  const titles = await bench.openActions();
  expect(titles.some((title) => title.includes('Move F down to the chord tone E'))).toBe(true);
  await bench.picture('enclosure');
  await bench.chooseAction('Enclose E: F-D E');
  await bench.squiggles('warning').first().waitFor({ state: 'detached' });
  expect(await bench.saved('lesson.phrase')).toBe(`${LESSON}D4 F A G-F-D | E-A C-E G ~ |`);
  await expect.poll(async () => (await bench.degrees()).join(' '), { timeout: 20_000 }).toMatch(/^1 b3 .*b7 .*3 .*13/);
  // The line above the phrase follows last.
  await bench.page.locator('.codelens-decoration', { hasText: 'Nothing clashes' }).waitFor();
  await bench.picture('repaired');
});

test('degrees stand above the notes, and formatting aligns the rows', async () => {
  await bench.openText('format.phrase', 'phrase "Slack water"\n key F major\n over | Gm7 C7 | Fmaj7 |\n line | Bb4-A G-D E-C Bb-G | A ~ . . |\n');
  await expect.poll(async () => (await bench.degrees()).join(' '), { timeout: 20_000 }).toMatch(/^b3 9 1 5 /);
  await bench.command('Format Document');
  await bench.page.locator('.view-line', { hasText: /key\s{5}F/ }).first().waitFor();
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

test('the status item says how many findings there are', async () => {
  await bench.openText('status.phrase', 'phrase "Two"\n  key C major\n  over | Cmaj7 | Cmaj7 |\n  line | F4-A C-E G ~ | F4-A C-E G ~ |\n');
  await bench.page.locator('.statusbar-item', { hasText: 'Phrasewright: 2' }).waitFor();
  await bench.page.keyboard.press('Control+Home');
  await bench.command('Phrasewright: Cycle the Degrees Shown After Notes');
  await bench.page.locator('.statusbar-item', { hasText: 'notes with a finding' }).waitFor();
});

test('the walk-through stands beside the text as a document, and the degrees row is written at the phrase’s name', async () => {
  await bench.open('lanterns-on-the-quay.phrase');
  await bench.goTo(30, 5);
  await bench.command('Phrasewright: Open the Walk-through as Text');
  const beside = bench.page.locator('.editor-group-container').nth(1).locator('.view-lines');
  await beside.getByText('Boathouse bench').waitFor();
  // A narrow column breaks lines after hyphens too.
  const said = (await beside.innerText()).replace(/\s+/g, '');
  expect(said).toContain('Bar1:Bb-A-G-Dfallsb3-9-1-5ofGm7.');
  expect(said).toContain('BbandGencloseA,thethirdofFmaj7');
  await bench.picture('walkthrough');
  await bench.page.keyboard.press('Control+1');
  await bench.openText('numbers.phrase', 'phrase "Numbers"\n  key     C major\n  over    | Dm7 G7  | Cmaj7   |\n  line    | D4 F A G | E ~ C ~ |\n');
  await bench.goTo(1, 3);
  await bench.openActions();
  await bench.chooseAction('Write the degrees row');
  await bench.page.locator('.view-line', { hasText: 'degrees' }).first().waitFor();
  expect(await bench.saved('numbers.phrase')).toBe('phrase "Numbers"\n  key     C major\n  over    | Dm7 G7  | Cmaj7   |\n  line    | D4 F A G | E ~ C ~ |\n  degrees | 1 b3 9 1 | 3 * 1 * |\n');
});
