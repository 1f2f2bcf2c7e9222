/** The score as a teacher uses it: beside the text, of the text as it is now, and the way back from a note to the text. */
import type { Frame } from 'playwright-core';
import { expect, test } from 'vitest';
import { measure } from '../../server/src/picture/measure';
import { workbenchOfSuite } from './harness';

const bench = workbenchOfSuite();
let score: Frame;

const LESSON = `phrase "Harbour steps"
  key     C major
  tempo   120 swing
  over    | Dm7 G7   | Cmaj7     |
  line    | D4-F A-C5 B-G F-D | E-C5 G (B)> ~ |
  say     "Sing the third."
`;

/** The figures under the notes, left to right, system by system. */
const figures = (): Promise<string> =>
  score
    .locator('.below .figure')
    .allTextContents()
    .then((all) => all.join(' '));

/** The note that has the keyboard’s focus. */
const focused = (): Promise<unknown> => score.evaluate("document.activeElement?.getAttribute('data-note')");

async function eventually<T>(read: () => Promise<T>, expected: T): Promise<void> {
  await expect.poll(read, { interval: 50 }).toEqual(expected);
}

test('the phrase at the cursor is engraved beside the text, with degrees and devices', async () => {
  await bench.openText('score.phrase', LESSON);
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Show the Score');
  score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await eventually(figures, '1 ♭3 5 ♭7 3 1 ♭7 5 3 1 5 7');
  expect(
    await score
      .locator('.harm')
      .allTextContents()
      .then((all) => all.map((text) => text.replace(/\s+/g, ''))),
  ).toEqual(['Dm7', 'G7', 'Cmaj7']);
  expect(await score.locator('.device text').allTextContents()).toContain('arpeggio, cell');
  expect(await score.locator('.phrase header').innerText()).toContain('Harbour steps');
  await bench.picture('score');
});

test('an edit is followed: the figure changes, and the finding is marked in the score as in the text', async () => {
  const told = (): Promise<string> => score.locator('.walkthrough').innerText();
  const asWritten = await told();
  await bench.goTo(5, 33);
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('F');
  await eventually(figures, '1 ♭3 5 ♭7 3 1 ♭7 5 11 1 5 7');
  await bench.squiggles('warning').first().waitFor();
  // The score hears of a finding a moment after the text.
  await eventually(() => score.locator('.below path.finding.warning').count(), 1);
  await score.locator('.findings button', { hasText: 'Warning: F' }).waitFor();
  // The walk-through follows in a pause; what the list says is not said again in it.
  await expect.poll(told).not.toBe(asWritten);
  expect(await score.locator('.walkthrough').innerText()).not.toContain('F lands on beat 1');
  await bench.picture('score-finding');
  // The finding's words lead to its place in the text.
  await score.locator('.findings button').click();
  await bench.page.locator('.statusbar-item', { hasText: 'Ln 5, Col 34 (1 selected)' }).waitFor();
  await bench.page.keyboard.type('E');
  await eventually(figures, '1 ♭3 5 ♭7 3 1 ♭7 5 3 1 5 7');
  await eventually(() => score.locator('.below path.finding').count(), 0);
  // The walk-through follows in a pause; sentences that are written anew lose the pointer and the focus.
  await eventually(told, asWritten);
});

test('a sentence of the walk-through shows its notes, for the pointer and for the keyboard, and leads to them', async () => {
  const sentence = score.locator('.walkthrough .sentence').first();
  const marked = (): Promise<string[]> =>
    score
      .locator('.place.of-sentence')
      .evaluateAll((places) => places.map((place) => (place as unknown as { dataset: { note: string } }).dataset.note));
  const wanted = (await sentence.getAttribute('data-notes'))!.split(' ');
  expect(wanted.length).toBeGreaterThan(2);
  await sentence.hover();
  await eventually(() => marked().then((notes) => notes.join(' ')), wanted.join(' '));
  await bench.picture('score-sentence');
  await score.locator('h2').first().hover();
  await eventually(() => marked().then((notes) => notes.length), 0);
  const atCursor = (): Promise<string | null> => score.locator('.place.at-cursor').first().getAttribute('data-note');
  await sentence.click();
  await eventually(atCursor, wanted[0]!);
  await bench.page.keyboard.press('Tab');
  const next = (await score.locator('.walkthrough .sentence').nth(1).getAttribute('data-notes'))!.split(' ');
  await eventually(() => marked().then((notes) => notes.join(' ')), next.join(' '));
  await bench.page.keyboard.press('Enter');
  await eventually(atCursor, next[0]!);
  await bench.toText();
});

test('while the text is broken the last good picture stays, and says so', async () => {
  await bench.goTo(5, 34);
  await bench.page.keyboard.type('x?');
  // A word that the cursor stands right behind may not be whole.
  await bench.goTo(5, 10);
  await eventually(
    () =>
      score
        .locator('.state')
        .innerText()
        .then((text) => text.startsWith('The picture is of the text before this error')),
    true,
  );
  expect(await figures()).toBe('1 ♭3 5 ♭7 3 1 ♭7 5 3 1 5 7');
  await bench.goTo(5, 36);
  await bench.page.keyboard.press('Backspace');
  await bench.page.keyboard.press('Backspace');
  await eventually(() => score.locator('.state').innerText(), '');
});

test('the cursor’s note is marked; a click and the arrow keys select in the text, and nothing is scrolled', async () => {
  await bench.goTo(5, 16);
  await eventually(
    () => score.locator('.place.at-cursor').getAttribute('aria-label'),
    'F 4, eighth, bar 1, the “and” of 1, minor third of Dm7, chord tone, arpeggio, cell',
  );
  const before = await score.evaluate('document.documentElement.scrollTop');
  /** The text has the focus a moment after the selection: one that came later would take the keys from the score. */
  const status = async (text: string): Promise<void> => {
    await bench.page.locator('.statusbar-item', { hasText: text }).waitFor();
    await bench.page.locator('.monaco-editor.focused').first().waitFor();
  };
  const note = score.locator('.place[data-note="4"]');
  await note.click({ position: { x: 5, y: 20 } });
  await eventually(() => score.locator('.place.at-cursor').getAttribute('data-note'), '4');
  expect(await score.evaluate('document.documentElement.scrollTop')).toBe(before);
  // The hover of the text is there too.
  await score.locator('.told', { hasText: 'B4 is the 3 of G7 (G mixolydian): major third, chord tone.' }).waitFor();
  await bench.picture('score-note');
  // The editor says where its selection is while it has the focus.
  await bench.toText();
  await status('Ln 5, Col 24 (1 selected)');

  await note.click({ position: { x: 5, y: 20 } });
  await bench.page.keyboard.press('ArrowRight');
  await eventually(focused, '5');
  await bench.page.keyboard.press('Enter');
  await status('Ln 5, Col 26 (1 selected)');
  await note.click({ position: { x: 5, y: 20 } });
  await bench.page.keyboard.press('End');
  await eventually(focused, '11');
  await bench.page.keyboard.press('Enter');
  await status('Ln 5, Col 44 (4 selected)');
});

test('a definition that is written is seen in the phrase that uses it; the notes of a cell can be told apart', async () => {
  await bench.openText(
    'turn.phrase',
    'changes turn = | Dm7 G7 | Cmaj7 |\ncell climb = 1-2 3-5\nphrase "Weir"\n  over    turn\n  line    | climb 5 3 | 3 ~ 1 . |\n',
  );
  await bench.goTo(5, 25);
  const symbols = (): Promise<string> =>
    score
      .locator('.harm')
      .allTextContents()
      .then((all) => all.map((text) => text.replace(/\s+/g, '')).join(' '));
  await eventually(symbols, 'Dm7 G7 Cmaj7');
  await bench.goTo(1, 22);
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('A');
  await eventually(symbols, 'Dm7 A7 Cmaj7');
  // A list of completions that is still on its way would lie over the page; none comes where the cursor has gone from.
  await bench.goTo(5, 25);
  await score.locator('.place[data-note="2"]').click({ position: { x: 5, y: 20 } });
  await bench.page.waitForTimeout(300);
  expect(await score.locator('.place.at-cursor').getAttribute('data-note')).toBe('2');
  await bench.page.keyboard.press('ArrowRight');
  await eventually(focused, '3');
  await bench.toText();
});

test('text from a file is never markup', async () => {
  const script = '<img src=x onerror="document.title=1"><script>document.title=2</script>';
  const long = 'long '.repeat(300).trim();
  await bench.openText(
    'hostile.phrase',
    `phrase "${script.replaceAll('"', '\\"')} ${long}"
  key     C major
  over    | Cmaj7 |
  line    | E4 G C5 ~ |
  say     "</p></div>${script.replaceAll('"', '\\"')} **bold** ]]>"
  say     "\u202eשלום עולם"
`,
  );
  await bench.goTo(4, 13);
  await eventually(figures, '3 5 1');
  expect(await score.locator('h2').innerText()).toContain(script);
  expect(await score.locator('.says').innerText()).toContain(`</p></div>${script} bold`);
  expect(await score.locator('.says').innerText()).toContain('שלום');
  expect(await score.locator('main script, main img, main iframe, main a').count()).toBe(0);
  expect(await score.evaluate('document.title')).toBe('Score');
  // Nothing is wider than the page, however long a title is.
  expect(await score.evaluate('document.documentElement.scrollWidth <= document.documentElement.clientWidth')).toBe(true);
  await bench.picture('score-hostile');
});

test('all of a lesson, in dark and high-contrast colours', async () => {
  await bench.open('lanterns-on-the-quay.phrase');
  await bench.goTo(60, 16);
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await score.locator('select', { hasText: 'the whole lesson' }).selectOption('lesson');
  await eventually(() => score.locator('section.phrase').count(), 10);
  await score.locator('summary', { hasText: 'What is shown' }).click();
  await bench.toText();
  await bench.goTo(84, 20);
  for (const [theme, name] of [
    ['Dark Modern', 'score-dark'],
    ['Default High Contrast', 'score-high-contrast'],
    ['Default High Contrast Light', 'score-high-contrast-light'],
    ['Light Modern', 'score-lesson'],
  ] as const) {
    await bench.theme(theme);
    await bench.page.waitForTimeout(500);
    await bench.picture(name);
  }
  expect(await score.locator('h1').innerText()).toBe('Lanterns on the quay');
  // The letters are as wide as the table says by which the picture is laid out.
  const widths = await score.evaluate<
    { words: string; bold: boolean; width: number }[]
  >(`document.fonts.ready.then(() => [...document.querySelectorAll('.system text')].map((one) => (
    { words: one.textContent, bold: one.getAttribute('font-weight') === '700', width: one.getComputedTextLength() / Number(one.getAttribute('font-size')) })))`);
  for (const { words, bold, width } of widths)
    expect(Math.abs(width - measure(words, bold ? 'bold' : 'regular').width), words).toBeLessThan(0.02 * words.length);
  // Roles are told by shapes, whatever the colours.
  expect(await score.locator('.below path.role.tension').count()).toBeGreaterThan(5);
});

test('for the wall of a class room all is twice as large, and no wider than the page', async () => {
  const choices = (isOpen: boolean): Promise<void> =>
    score.evaluate(`[...document.querySelectorAll('details')].find((one) => one.textContent.startsWith('What is shown')).open = ${isOpen}`);
  const size = score.locator('label', { hasText: 'Size' }).locator('select');
  const head = async (): Promise<number> => (await score.locator('section.current .system .notehead').first().boundingBox())!.height;
  const letters = (): Promise<string> =>
    score.evaluate("['h1', 'h2', '.says p'].map((one) => parseFloat(getComputedStyle(document.querySelector(one)).fontSize)).join(' ')");
  await choices(true);
  await size.selectOption({ label: 'usual' });
  const usual = await head();
  const small = await letters();
  await size.selectOption({ label: 'for a wall' });
  await expect.poll(async () => (await head()) / usual).toBeGreaterThan(1.7);
  // The phrase at the cursor stays the current one, though the score was asked for at another.
  expect(await score.locator('section.current h2').innerText()).toBe('Gangway');
  expect(await letters()).toBe(
    small
      .split(' ')
      .map((size) => 2 * Number(size))
      .join(' '),
  );
  expect(await score.evaluate('document.documentElement.scrollWidth <= document.documentElement.clientWidth')).toBe(true);
  await choices(false);
  await bench.picture('score-wall');
  await choices(true);
  await size.selectOption({ label: 'usual' });
  await expect.poll(async () => (await head()) / usual).toBeCloseTo(1, 1);
  // The choice is kept for what is opened next.
  await score.locator('select', { hasText: 'the whole lesson' }).selectOption('phrase');
  await eventually(() => score.locator('section.phrase').count(), 1);
});
