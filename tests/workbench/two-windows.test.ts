/** Files that change under the editor: on the disk while something is unsaved, and in a second window on the same folder. Nothing is lost, and what is shown is of the text in the editor. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Frame, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { acceptPlace, listedIn, runCommand, workbenchOfFile } from './harness';

/** In a browser the editor would save by itself. */
const bench = workbenchOfFile('trusted', { 'files.autoSave': 'off' });

const phrase = (line: string): string => `phrase "Slipway"\n  key C major\n  over | Cmaj7 | Cmaj7 |\n  line | ${line} |\n`;
const CLEAN = phrase('E4 A C5 E | E4 A C5 E');
/** Columns of the line: its first note, which is a letter and a figure, and its end. */
const [FIRST, END] = [10, CLEAN.split('\n')[3]!.length + 1];

const PATIENT = { timeout: 60_000, interval: 100 };
const onDisk = (file: string): string => readFileSync(join(bench.folder, file), 'utf8');

/** One window of the editor: what is seen in it and done to it. */
interface Window {
  readonly page: Page;
  /** The lines of text in sight. */
  text(): Promise<string>;
  warnings(): Promise<number>;
  /** The page of the score, and the figures in it. */
  score(): Promise<Frame>;
  figures(): Promise<string>;
  /** The button of the score that plays and stops. */
  plays(): Promise<boolean>;
  /** Puts the cursor there and types in place of so many characters after it. */
  write(column: number, length: number, typed: string): Promise<void>;
  command(title: string): Promise<void>;
  /** Runs a command that asks something further. */
  askingCommand(title: string): Promise<void>;
}

/** The file that is written in. */
let file = 'unsaved.phrase';

function windowOf(page: Page): Window {
  const quick = async (text: string): Promise<void> => {
    const box = page.locator('.quick-input-box input');
    await box.waitFor();
    await box.fill(text);
    await page.locator('.quick-input-list .monaco-list-row').first().waitFor();
    await box.press('Enter');
    await page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  };
  const inText = async (): Promise<void> => {
    await page.locator('.tabs-container .tab', { hasText: file }).first().click();
    await page.locator('.monaco-editor.focused').first().waitFor();
  };
  const one: Window = {
    page,
    text: async () => (await page.locator('.monaco-editor .view-line').allInnerTexts()).join('\n').replaceAll('\u00a0', ' '),
    warnings: () => page.locator('.squiggly-warning').count(),
    async score() {
      let found: Frame | undefined;
      await expect
        .poll(async () => {
          for (const frame of page.frames())
            if (
              (await frame
                .locator('#score svg.system')
                .count()
                .catch(() => 0)) > 0
            )
              found = frame;
          return found !== undefined;
        }, PATIENT)
        .toBe(true);
      return found!;
    },
    figures: async () => (await (await one.score()).locator('.below .figure').allTextContents()).join(' '),
    plays: async () => (await (await one.score()).locator('button.play:not(#begin)').innerText()).includes('Stop'),
    async write(column, length, typed) {
      await inText();
      await page.keyboard.press('Control+g');
      await quick(`:4:${column}`);
      await page.locator('.statusbar-item', { hasText: `Ln 4, Col ${column}` }).waitFor();
      await page.locator('.monaco-editor.focused').first().waitFor();
      for (let i = 0; i < length; i += 1) await page.keyboard.press('Delete');
      await page.keyboard.type(typed);
    },
    async command(title) {
      await one.askingCommand(title);
      await page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
    },
    async askingCommand(title) {
      await inText();
      await runCommand(page, title);
    },
  };
  return one;
}

const toastIn = ({ page }: Window, words: string | RegExp) => page.locator('.notification-toast', { hasText: words });
const until = <T>(read: () => Promise<T>, wanted: T): Promise<void> => expect.poll(read, PATIENT).toEqual(wanted);
const save = ({ page }: Window): Promise<void> => page.keyboard.press('Control+s');

let first: Window;
beforeAll(() => {
  first = windowOf(bench.page);
});

describe('a file that another program changes while something in it is unsaved', () => {
  const THEIRS = phrase('F4 A C5 E | F4 A C5 Eb');

  test('stays as it was typed, with its findings and its score; saving says what happened, and does nothing before it is told to', async () => {
    await bench.openText(file, CLEAN);
    await first.command('Phrasewright: Show the Score');
    await until(first.figures, '3 13 1 3 3 13 1 3');
    await first.write(FIRST, 2, 'F4');
    await until(first.warnings, 1);
    await until(first.figures, '11 13 1 3 3 13 1 3');
    writeFileSync(join(bench.folder, file), THEIRS);
    await first.write(END, 0, ' // mine');
    await save(first);
    const toast = toastIn(first, 'The content of the file is newer');
    await toast.waitFor();
    await bench.picture('newer-on-disk');
    expect(onDisk(file)).toBe(THEIRS);
    expect(await first.text()).toContain('line | F4 A C5 E | E4 A C5 E | // mine');
    expect(await first.warnings()).toBe(1);
    expect(await first.figures()).toBe('11 13 1 3 3 13 1 3');
    // What is typed now is followed, too: a step to a chord tone excuses the note before it.
    await first.write(FIRST + 3, 1, 'G');
    await until(first.figures, '11 5 1 3 3 13 1 3');
    await until(first.warnings, 0);
    expect(onDisk(file)).toBe(THEIRS);
    await toast.getByRole('button', { name: 'Overwrite' }).click();
    await until(async () => onDisk(file), phrase('F4 G C5 E | E4 A C5 E').replace(/\|\n$/, '| // mine\n'));
  });

  test('and where the editor does not ask, for the size is the same, the other text is kept and offered', async () => {
    const other = onDisk(file).replace('F4 G', 'D4 G');
    await first.write(END, 0, ' // again');
    writeFileSync(join(bench.folder, file), other);
    await save(first);
    const toast = toastIn(first, 'Another program had changed “unsaved.phrase”');
    await toast.waitFor();
    await bench.picture('same-size-on-disk');
    await until(async () => onDisk(file).includes('// again'), true);
    await toast.getByRole('button', { name: 'Open the Other Text' }).click();
    await until(async () => (await first.text()).includes('line | D4 G C5 E'), true);
    await bench.command('View: Close All Editors');
    await bench.page.getByRole('button', { name: /Don.t Save/ }).click();
    await bench.page.locator('.tabs-container .tab').first().waitFor({ state: 'detached' });
  });
});

describe('two windows on one folder', () => {
  let second: Window;
  test('show the same file, each with its findings and its score', async () => {
    file = 'shared.phrase';
    await bench.openText(file, CLEAN);
    await first.command('Phrasewright: Show the Score');
    const page = await bench.page.context().newPage();
    await page.goto(bench.page.url());
    second = windowOf(page);
    await page.locator('.monaco-workbench').waitFor({ timeout: 90_000 });
    const row = listedIn(page, 'shared.phrase');
    await row.waitFor({ timeout: 60_000 });
    await expect
      .poll(
        async () => {
          await row.dblclick();
          return page.locator('.tabs-container .tab.active', { hasText: 'shared.phrase' }).count();
        },
        { timeout: 60_000, interval: 3000 },
      )
      .toBe(1);
    await second.command('Phrasewright: Show the Score');
    for (const one of [first, second]) await until(one.figures, '3 13 1 3 3 13 1 3');
  });

  test('what is saved in one is seen in the other, and findings and score are right in both, to and fro', async () => {
    await first.write(FIRST, 2, 'F4');
    await until(first.warnings, 1);
    expect(await second.warnings()).toBe(0);
    await save(first);
    for (const one of [first, second]) {
      await until(async () => (await one.text()).includes('line | F4 A C5 E'), true);
      await until(one.warnings, 1);
      await until(one.figures, '11 13 1 3 3 13 1 3');
    }
    await second.write(FIRST, 2, 'E4');
    await save(second);
    for (const one of [second, first]) {
      await until(one.warnings, 0);
      await until(one.figures, '3 13 1 3 3 13 1 3');
    }
    expect(onDisk(file)).toBe(CLEAN);
  });

  test('what is unsaved in one is not lost when the other saves: it is said on saving', async () => {
    await first.write(FIRST, 2, 'F4');
    await until(first.warnings, 1);
    await second.write(END, 0, ' // theirs');
    await save(second);
    await until(async () => onDisk(file).includes('// theirs'), true);
    await save(first);
    const toast = toastIn(first, 'The content of the file is newer');
    await toast.waitFor();
    expect(onDisk(file)).toBe(CLEAN.replace(/\n$/, ' // theirs\n'));
    expect(await first.warnings()).toBe(1);
    expect(await second.warnings()).toBe(0);
    await toast.getByRole('button', { name: 'Overwrite' }).click();
    for (const one of [first, second]) {
      await until(async () => (await one.text()).includes('line | F4 A C5 E'), true);
      await until(one.warnings, 1);
    }
  });

  test('the sound of one goes on whatever the other does, and the other is silent until it plays itself', async () => {
    await first.command('Phrasewright: Play the Bar Again and Again');
    await until(first.plays, true);
    expect(await second.plays()).toBe(false);
    await second.write(END, 0, ' // more');
    await until(async () => (await second.text()).includes('// more'), true);
    await second.command('Phrasewright: Play the Phrase');
    await until(second.plays, true);
    await second.command('Phrasewright: Stop the Sound');
    await until(second.plays, false);
    expect(await first.plays()).toBe(true);
    await first.command('Phrasewright: Stop the Sound');
    await until(first.plays, false);
    await second.command('File: Revert File');
  });

  test('both hand out the same lesson to the same place: the second is asked first, and the file is whole after each', async () => {
    const path = join(bench.folder, 'shared-teacher.pdf');
    const isWhole = (): boolean =>
      existsSync(path) &&
      readFileSync(path).subarray(0, 5).toString() === '%PDF-' &&
      /%%EOF\s*$/.test(readFileSync(path).subarray(-16).toString('latin1'));
    for (const { page, askingCommand } of [first, second]) {
      await page.bringToFront();
      await askingCommand('Phrasewright: Hand Out (Print, PDF, HTML)…');
      const box = page.locator('.quick-input-box input');
      await page.locator('.quick-input-title', { hasText: /^Hand Out / }).waitFor();
      await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Write the' }).first().click();
      await expect.poll(() => box.inputValue(), PATIENT).toBe(path);
    }
    const boxOf = ({ page }: Window): Locator => page.locator('.quick-input-box input');
    await acceptPlace(boxOf(first), path, isWhole);
    await toastIn(first, 'Wrote shared-teacher.pdf.').waitFor();
    const before = readFileSync(path);
    // The editor's own dialog asks in the box; the file of the other window stands until that is answered.
    const asked = second.page.locator('.quick-input-title', { hasText: 'already exists' });
    await acceptPlace(boxOf(second), path, async () => (await asked.count()) === 1);
    expect(readFileSync(path).equals(before)).toBe(true);
    await boxOf(second).press('Enter');
    await toastIn(second, 'Wrote shared-teacher.pdf.').waitFor({ timeout: 60_000 });
    expect(isWhole()).toBe(true);
    expect(readdirSync(bench.folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});
