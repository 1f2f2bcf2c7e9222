/** Drives the real editor, with the packaged extension in it, from a real browser. The only code of the tests that knows either. */
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Frame, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject } from 'vitest';
import { BROWSERS, EDITOR, FIRST_SCREEN, freePort, ROOT, startEditor, writeSettings } from '../../client/editor/tools.mjs';

export interface Workbench {
  readonly page: Page;
  /** The folder that is open: a copy of the samples. */
  readonly folder: string;
  open(file: string): Promise<void>;
  /** Opens a new file of that name with a text, by writing it to the folder first. */
  openText(file: string, text: string): Promise<void>;
  /** The text of a file as the editor saved it. */
  saved(file: string): Promise<string>;
  /** Puts the cursor on a line and column, from 1. */
  goTo(line: number, column: number): Promise<void>;
  /** Hovers the nth occurrence (from 1) of a word on a line, and answers what the hover says once it speaks of `about`: its parts come one by one. */
  hoverWord(line: number, word: string, nth: number, about: string): Promise<string>;
  /** The titles in the menu of code actions at the cursor. */
  openActions(): Promise<string[]>;
  /** Chooses one of the code actions in the open menu. */
  chooseAction(title: string): Promise<void>;
  /** In the explorer's list. */
  listed(name: RegExp): Locator;
  /** Opens the menu of an item, and in it ours, which has that entry; answers the labels of both. */
  openMenu(item: Locator, entry: RegExp): Promise<Locator>;
  /** Takes an entry of ours from the menu of an item; `look` is called while it is open. */
  fromMenu(item: Locator, entry: RegExp, look?: (labels: Locator) => Promise<void>): Promise<void>;
  command(title: string): Promise<void>;
  /** Runs a command that asks something further. */
  askingCommand(title: string): Promise<void>;
  /** Loads the window anew by the editor's own command, which keeps what is open first: a browser that is told to may be faster than that. */
  reload(): Promise<void>;
  /** Gives the focus back to the text from the page of the score. */
  toText(): Promise<void>;
  /** The page of the score, once it is there. */
  score(): Promise<Frame>;
  /** Takes a colour theme by its name in the settings. */
  theme(name: string): Promise<void>;
  /** The degrees that are drawn above the notes in sight, line by line; one that takes room in its line says so. */
  degrees(): Promise<string[]>;
  squiggles(severity: 'error' | 'warning' | 'info'): Locator;
  /** What is seen, in a run that is told to take pictures. */
  picture(name: string): Promise<void>;
  /** Closes what is open, unsaved or not, and makes the folder a copy of the samples again, without settings of its own. */
  empty(): Promise<void>;
  close(): Promise<void>;
}

/** Where pictures of a run go: a folder to look at, or that of the committed ones. A picture costs as much as a test, so none is taken unless a run is told to. */
const PICTURES = process.env['RENEW_PICTURES'] === undefined ? process.env['LOOK'] : join(ROOT, 'tests', 'workbench', 'pictures');

const DEGREES = `[...document.querySelectorAll('.view-line span span')].flatMap((span) => {
  const { content, position } = getComputedStyle(span, '::before');
  return content === 'none' || content === 'normal' ? [] : [(position === 'absolute' ? '' : 'in the line: ') + JSON.parse(content)];
})`;

function chromiumPath(): string {
  const found = BROWSERS.find((path) => path !== undefined && existsSync(path));
  if (found === undefined)
    throw new Error('Chromium is missing. Install it (apt-get install chromium-headless-shell), or say where it is in CHROMIUM_PATH.');
  return found;
}

/** A file or folder in the explorer’s list. */
export function listedIn(page: Page, name: string | RegExp): Locator {
  return page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first();
}

/** Whether something comes: a promise that is refused, as one that has waited long enough, is no. */
export function succeeds(work: Promise<unknown>): Promise<boolean> {
  return work.then(
    () => true,
    () => false,
  );
}

/**
 * Answers a file dialog with a path, until what it leads to is there. The dialog writes its own folder into the box once it has read it, over
 * what was typed before, and takes no key until then: the path is typed again where it is not there, and accepted where it is found there.
 */
export async function acceptPlace(box: Locator, path: string, leadsTo: () => boolean | Promise<boolean>): Promise<void> {
  const patience = { timeout: 1000 };
  let accepted = -Infinity;
  await expect
    .poll(
      async () => {
        if (await leadsTo()) return true;
        // A key too many would answer what the dialog asks next.
        if (performance.now() - accepted < 2000 || !(await box.isVisible())) return false;
        const typed = await box.inputValue(patience).catch(() => '');
        if (typed === path || typed === `${path}/`) {
          accepted = performance.now();
          await succeeds(box.press('Enter', patience));
        } else if (typed.startsWith('/')) await succeeds(box.fill(path, patience));
        return false;
      },
      { timeout: 60_000, interval: 100 },
    )
    .toBe(true);
}

/** A browser that plays without a click. */
export async function launch(): Promise<Browser> {
  const require = createRequire(join(EDITOR, 'package.json'));
  const { chromium } = require('playwright-core') as typeof import('playwright-core');
  return chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--autoplay-policy=no-user-gesture-required',
    ],
  });
}

/**
 * Takes a command from the palette. A key that comes while the page is busy with another is lost, and just after its start the editor does not
 * list what the extension brings: then the palette is opened again.
 */
export async function runCommand(page: Page, title: string): Promise<void> {
  const box = page.locator('.quick-input-box input');
  const row = page.locator('.quick-input-list .monaco-list-row', { hasText: title.replace(/^[^:]*: /, '') }).first();
  const isThere = (what: Locator): Promise<boolean> => succeeds(what.waitFor({ timeout: 5000 }));
  for (let tries = 0; tries < 6; tries += 1) {
    await page.keyboard.press('F1');
    if (!(await isThere(box))) continue;
    // What has just been closed may take the focus, and the palette with it.
    const isFilled = await succeeds(box.fill(`>${title}`, { timeout: 5000 }));
    if (!isFilled) continue;
    if (await isThere(row)) {
      await box.press('Enter');
      return;
    }
    await page.keyboard.press('Escape');
  }
  throw new Error(`The palette did not list “${title}”.`);
}

/** Gives an editor the extension that another one has; the list of extensions names the folder they are in. */
function copyExtension(from: string, to: string): void {
  cpSync(join(from, 'extensions'), join(to, 'extensions'), { recursive: true });
  const list = join(to, 'extensions', 'extensions.json');
  writeFileSync(list, readFileSync(list, 'utf8').replaceAll(from, to));
}

/** Ends what a test watches at every frame of a page: left to itself it would have the page drawn, sixty times a second, for all tests after it. */
export async function stopWatching(page: Page): Promise<void> {
  // A frame may go while it is told.
  await Promise.all(page.frames().map((frame) => succeeds(frame.evaluate('window.watching = undefined'))));
}

/** The workbench of the suites that share one, while a suite is read. */
let shared: Workbench | undefined;

/**
 * A window costs as much processor time as ten tests. Suites that need nothing of theirs but to be empty run in one, in order; each is called
 * by its name, by which it can be run alone.
 */
export function suitesInOneWindow(
  settings: Readonly<Record<string, unknown>>,
  suites: Readonly<Record<string, () => Promise<unknown>>>,
): void {
  const bench = workbenchOfFile('trusted', settings);
  for (const [name, read] of Object.entries(suites)) {
    describe(name, async () => {
      shared = bench;
      await read().finally(() => (shared = undefined));
    });
  }
}

/** The workbench of a suite, empty before its first test. */
export function workbenchOfSuite(): Workbench {
  if (shared === undefined) throw new Error('A suite is read by a file that gives it a window (suitesInOneWindow).');
  const bench = shared;
  beforeAll(() => bench.empty());
  return bench;
}

/** A workbench for all tests of a file, opened before the first and closed after the last; it is empty until then. */
export function workbenchOfFile(...opening: Parameters<typeof openWorkbench>): Workbench {
  const bench = {} as { -readonly [K in keyof Workbench]: Workbench[K] };
  beforeAll(async () => {
    Object.assign(bench, await openWorkbench(...opening));
  });
  afterAll(async () => {
    // There is nothing to close where it did not open.
    await (bench as Partial<Workbench>).close?.();
  });
  return bench;
}

/**
 * In a folder that is trusted, or in one that is not: the editor then keeps to what a stranger's folder may do. Or as it is on the first
 * start: a folder of a repository, and in it the first sample. `settings` are added to those of the user.
 */
export async function openWorkbench(
  opening: 'trusted' | 'untrusted' | 'first-start' = 'trusted',
  settings: Readonly<Record<string, unknown>> = {},
): Promise<Workbench> {
  const home = mkdtempSync(join(tmpdir(), 'phrasewright-workbench-'));
  const folder = join(home, 'samples');
  cpSync(join(ROOT, 'samples'), folder, { recursive: true });
  const data = join(home, 'data');
  const asksTrust = opening === 'untrusted';
  const isFirst = opening === 'first-start';
  if (isFirst) execFileSync('git', ['init', '--quiet', home]);
  copyExtension(inject('editorData'), data);
  writeSettings(data, {
    // Milliseconds: tips over the editor's own lists and tabs are not of us, and lie over what is to be clicked.
    'workbench.hover.delay': 60_000,
    // What moves for its own sake only costs time.
    'workbench.reduceMotion': 'on',
    'editor.cursorBlinking': 'solid',
    ...(isFirst ? FIRST_SCREEN.settings : { 'git.enabled': false }),
    ...(asksTrust ? { 'security.workspace.trust.enabled': true, 'security.workspace.trust.startupPrompt': 'never' } : {}),
    ...settings,
  });
  const editor = await startEditor({ data, folder, ...(isFirst ? { file: FIRST_SCREEN.file } : {}), port: await freePort(), asksTrust });
  const browser = await launch();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  await page.goto(editor.address);
  await page.locator('.monaco-workbench').waitFor({ timeout: 90_000 });

  const press = (keys: string): Promise<void> => page.keyboard.press(keys);
  const pointAt = async (line: number, word: string, nth: number): Promise<void> => {
    const number = page.locator('.line-numbers', { hasText: new RegExp(`^${line}$`) });
    const { y } = (await number.first().boundingBox())!;
    let found = 0;
    for (const candidate of await page.locator('.view-line span span').all()) {
      const box = await candidate.boundingBox();
      if (box === null || Math.abs(box.y - y) > 4 || (await candidate.innerText()) !== word) continue;
      found += 1;
      if (found < nth) continue;
      await page.mouse.move(box.x + 200, box.y + 200);
      await page.mouse.move(box.x + 4, box.y + box.height / 2, { steps: 5 });
      return;
    }
  };
  /** Behind a menu lies what takes every click beside it. */
  const closeMenu = async (): Promise<void> => {
    const behind = page.locator('.context-view-block');
    if (await behind.isVisible()) await succeeds(behind.click({ position: { x: 1, y: 1 }, timeout: 2000 }));
  };
  const bench: Workbench = {
    page,
    folder,
    async open(file) {
      const row = listedIn(page, file);
      const tab = page.locator('.tabs-container .tab.active', { hasText: file });
      // A list that is just drawn anew loses the clicks; then they are made again.
      for (let tries = 0; tries < 4; tries += 1) {
        await row.dblclick();
        // A pointer that rests on the list brings a tip, which would lie over the next file.
        await page.mouse.move(600, 650);
        const isOpen = await succeeds(tab.waitFor({ timeout: 8000 }));
        if (isOpen) break;
      }
      await tab.waitFor();
      await page.locator('.monaco-editor .view-line').first().waitFor();
    },
    async openText(file, text) {
      const path = join(folder, file);
      const row = listedIn(page, file);
      writeFileSync(path, text);
      // Just after its start the editor may not watch the folder yet, and would not hear of the file: then it is written anew.
      for (let tries = 0; tries < 5; tries += 1) {
        const isListed = await succeeds(row.waitFor({ timeout: 4000 }));
        if (isListed) break;
        rmSync(path);
        await page.waitForTimeout(500);
        writeFileSync(path, text);
      }
      await bench.open(file);
    },
    async saved(file) {
      const path = join(folder, file);
      const before = readFileSync(path, 'utf8');
      await press('Control+s');
      // The editor writes the file a moment after the key, emptied first: it is saved when it reads the same twice. One that stays as it was is answered as it is.
      let last = before;
      for (let tries = 0; tries < 50; tries += 1) {
        await page.waitForTimeout(100);
        const now = readFileSync(path, 'utf8');
        if (now !== before && now === last) return now;
        last = now;
      }
      return readFileSync(path, 'utf8');
    },
    async goTo(line, column) {
      await press('Control+g');
      const box = page.locator('.quick-input-box input');
      await box.waitFor();
      await box.fill(`:${line}:${column}`);
      // The place is worked out after it is typed: a key that comes before that, or while the focus is elsewhere, does nothing.
      const isGone = (): Promise<boolean> => succeeds(page.locator('.quick-input-widget').waitFor({ state: 'hidden', timeout: 2000 }));
      for (let tries = 0; tries < 10; tries += 1) {
        await box.press('Enter', { timeout: 2000 }).catch(() => undefined);
        if (await isGone()) break;
      }
      await page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
      // Keys that come before the text has the focus again are lost.
      await page.locator('.monaco-editor.focused').first().waitFor();
    },
    async hoverWord(line, word, nth, about) {
      const hover = page.locator('.monaco-hover:visible', { hasText: about }).first();
      // What comes above a line late (a lens) moves it under the pointer: then it is sought anew.
      for (let tries = 0; tries < 6; tries += 1) {
        await pointAt(line, word, nth);
        const isThere = await succeeds(hover.waitFor({ timeout: 5000 }));
        if (isThere) return (await hover.innerText()).replaceAll('\u00a0', ' ');
      }
      throw new Error(`No hover came over “${word}” on line ${line} that speaks of “${about}”.`);
    },
    async openActions() {
      const rows = page.locator('.action-widget .monaco-list-row');
      // What moves the text just then (a lens that comes late) closes the menu before it is seen: then it is asked for again.
      for (let tries = 0; tries < 5; tries += 1) {
        await press('Control+.');
        const isThere = await succeeds(rows.first().waitFor({ timeout: 5000 }));
        if (isThere) return (await rows.allInnerTexts()).map((text) => text.trim());
      }
      throw new Error('No menu of code actions came.');
    },
    listed: (name) => listedIn(page, name),
    async openMenu(item, entry) {
      const menu = page.locator('.monaco-menu .action-label');
      const patience = { timeout: 5000 };
      // What takes the focus just then closes the menu again, or leaves it open without its keys.
      for (let tries = 0; tries < 6; tries += 1) {
        await closeMenu();
        await item.first().click({ button: 'right' });
        const isOpen = await succeeds(menu.filter({ hasText: /^Phrasewright$/ }).hover(patience));
        if (isOpen && (await succeeds(menu.filter({ hasText: entry }).waitFor(patience)))) return menu;
      }
      throw new Error(`The menu did not offer ${String(entry)}.`);
    },
    async fromMenu(item, entry, look) {
      const menu = await bench.openMenu(item, entry);
      await look?.(menu);
      // A click that comes while the menu moves is not taken, and leaves it open.
      for (let tries = 0; tries < 6; tries += 1) {
        await succeeds(menu.filter({ hasText: entry }).click({ timeout: 2000 }));
        const isTaken = await succeeds(menu.first().waitFor({ timeout: 2000, state: 'hidden' }));
        if (isTaken) return;
      }
      throw new Error(`The menu did not take ${String(entry)}.`);
    },
    async chooseAction(title) {
      await page.locator('.action-widget .monaco-list-row', { hasText: title }).first().click();
      await page.locator('.action-widget .monaco-list-row').first().waitFor({ state: 'hidden' });
    },
    async command(title) {
      await runCommand(page, title);
      await page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
    },
    askingCommand: (title) => runCommand(page, title),
    async reload() {
      const isLoaded = page.waitForEvent('load', { timeout: 60_000 });
      await bench.askingCommand('Developer: Reload Window');
      await isLoaded;
    },
    async toText() {
      await page.locator('.tabs-container .tab.active').first().click();
      // What is opened before the focus has come to rest is closed again by it.
      await page.locator('.monaco-editor.focused').first().waitFor();
      await page.mouse.move(600, 650);
    },
    async score() {
      for (let tries = 0; tries < 100; tries += 1) {
        for (const frame of page.frames()) {
          // A frame may go while it is asked.
          const isScore = await frame
            .locator('#score')
            .count()
            .catch(() => 0);
          if (isScore > 0) return frame;
        }
        await page.waitForTimeout(200);
      }
      throw new Error('The score did not open within twenty seconds.');
    },
    async theme(name) {
      const kind = (): Promise<unknown> =>
        page.evaluate(
          'getComputedStyle(document.querySelector(".monaco-workbench")).backgroundColor + document.querySelector(".monaco-workbench").className',
        );
      const before = await kind();
      mkdirSync(join(folder, '.vscode'), { recursive: true });
      writeFileSync(join(folder, '.vscode', 'settings.json'), JSON.stringify({ 'workbench.colorTheme': name }));
      for (let tries = 0; tries < 100 && (await kind()) === before; tries += 1) await page.waitForTimeout(100);
      if ((await kind()) === before) throw new Error(`The editor did not take the theme “${name}”.`);
    },
    degrees: () => page.evaluate(DEGREES) as Promise<string[]>,
    squiggles: (severity) => page.locator(`.squiggly-${severity}`),
    async picture(name) {
      if (PICTURES !== undefined) await page.screenshot({ path: join(PICTURES, `${name}.png`) });
    },
    async empty() {
      const tabs = page.locator('.tabs-container .tab');
      for (let times = 0; times < 3; times += 1) await press('Escape');
      if ((await tabs.count()) > 0) {
        await bench.askingCommand('View: Close All Editors');
        const drops = page.getByRole('button', { name: "Don't Save" });
        for (let tries = 0; tries < 100 && (await tabs.count()) > 0; tries += 1) {
          if (await drops.isVisible()) await drops.click({ timeout: 2000 }).catch(() => undefined);
          await page.waitForTimeout(100);
        }
        if ((await tabs.count()) > 0) throw new Error('What was open could not be closed.');
      }
      await bench.askingCommand('Notifications: Clear All Notifications');
      await page.locator('.notification-toast').first().waitFor({ state: 'detached' });
      for (const name of readdirSync(folder)) rmSync(join(folder, name), { recursive: true });
      cpSync(join(ROOT, 'samples'), folder, { recursive: true });
    },
    async close() {
      await browser.close();
      await editor.stop();
      rmSync(home, { recursive: true, force: true });
    },
  };
  return bench;
}
