/** The server is killed or hangs while somebody writes, and files change under the editor: what was typed stays, what is shown is right again. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();

const HEAD = 'phrase "Slipway"\n  key C major\n  over | Cmaj7 | Cmaj7 |\n';
const CLASH = '  line | F4 A C5 E | F4 A C5 E |';

/** The processes of this editor's language server, by their command line. `isHeld`: it is stopped by a signal, and so answers nothing. */
function servers(): { readonly pid: number; readonly isHeld: boolean }[] {
  const home = dirname(bench.folder);
  const lines = execFileSync('ps', ['-eww', '-o', 'stat=,pid=,args='], { encoding: 'utf8' }).split('\n');
  return lines
    .filter((one) => one.includes(home) && /dist\/server\.cjs --node-ipc/.test(one) && !one.startsWith('Z'))
    .map((line) => {
      const [stat = '', pid] = line.trim().split(/\s+/);
      return { pid: Number(pid), isHeld: stat.startsWith('T') };
    });
}

/** Waits for the one server to be there: held or not, and another than those before. */
async function serverThere(isHeld = false, before: readonly number[] = []): Promise<number> {
  await expect.poll(() => servers().map((one) => one.isHeld && !before.includes(one.pid))).toEqual([isHeld]);
  return servers()[0]!.pid;
}

async function kill(): Promise<void> {
  process.kill(await serverThere(), 'SIGKILL');
}

const warnings = (count: number): Promise<void> => expect.poll(() => bench.squiggles('warning').count()).toBe(count);

test('killed four times while somebody writes it comes back; the fifth time one message says so, and its button starts it', async () => {
  const { page } = bench;
  await bench.openText('killed.phrase', HEAD);
  await bench.goTo(4, 1);
  const parts = ['  line | F4 A', ' C5 E', ' | F4 A', ' C5 E |'];
  for (const part of parts) {
    await page.keyboard.type(part.slice(0, 3), { delay: 30 });
    await kill();
    await page.keyboard.type(part.slice(3), { delay: 30 });
  }
  expect(await bench.saved('killed.phrase')).toBe(HEAD + CLASH);
  await warnings(2);
  const messages = page.locator('.notification-toast');
  expect(await messages.count()).toBe(0);

  await kill();
  const message = messages.filter({ hasText: 'ended 5 times within three minutes' });
  await message.waitFor();
  expect(await messages.count()).toBe(1);
  await bench.picture('server-stopped');
  await warnings(0);
  expect(readFileSync(join(bench.folder, 'killed.phrase'), 'utf8')).toBe(HEAD + CLASH);
  await message.getByRole('button', { name: 'Start It Again' }).click();
  await warnings(2);
  expect(await messages.count()).toBe(0);
});

test('a file that another program changes while it is open is shown as it is now', async () => {
  await bench.openText('changed.phrase', `${HEAD}${CLASH}\n`);
  await warnings(2);
  writeFileSync(join(bench.folder, 'changed.phrase'), `${HEAD}  line | E4 G C5 E | F4 A C5 E |\n`);
  await warnings(1);
});

const HANGS = 'has answered nothing for 20 seconds';
const QUIET = '  line | F4 A C5 E | E4 A C5 E |';

/** The second bar of the line becomes as the first is. */
async function writeClash(): Promise<void> {
  await bench.goTo(4, QUIET.indexOf('E4') + 1);
  await bench.page.keyboard.press('Shift+End');
  await bench.page.keyboard.type('F4 A C5 E |', { delay: 30 });
}

/** The one message that a server hangs; its button starts another, and what is shown is right for all that was typed. */
async function startAgain(file: string, hanging: number): Promise<void> {
  const messages = bench.page.locator('.notification-toast');
  const message = messages.filter({ hasText: HANGS });
  await message.waitFor({ timeout: 60_000 });
  expect(await messages.count()).toBe(1);
  expect(servers()).toEqual([{ pid: hanging, isHeld: true }]);
  expect(readFileSync(join(bench.folder, file), 'utf8')).toBe(HEAD + CLASH);
  await message.getByRole('button', { name: 'Start It Again' }).click();
  await warnings(2);
  expect(await serverThere()).not.toBe(hanging);
  expect(await messages.count()).toBe(0);
  // The new one reads what is typed now.
  await bench.toText();
  await bench.goTo(4, QUIET.indexOf('E4') + 1);
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('E', { delay: 30 });
  await warnings(1);
  expect(await bench.saved(file)).toBe(HEAD + QUIET);
}

test('hanging while somebody writes it is told once; the button ends it and starts another', async () => {
  await bench.openText('hanging.phrase', HEAD + QUIET);
  await warnings(1);
  const pid = await serverThere();
  process.kill(pid, 'SIGSTOP');
  await writeClash();
  expect(await bench.saved('hanging.phrase')).toBe(HEAD + CLASH);
  // What was shown stays.
  await warnings(1);
  await startAgain('hanging.phrase', pid);
});

test('hanging at its start it is told once, what needs no server works, and the button ends it and starts another', async () => {
  const extensions = join(dirname(bench.folder), 'data', 'extensions');
  const dist = join(extensions, readdirSync(extensions).find((one) => one.includes('phrasewright'))!, 'dist');
  const flag = join(dist, 'hold');
  renameSync(join(dist, 'server.cjs'), join(dist, 'whole-server.cjs'));
  // It holds itself before it does anything else.
  writeFileSync(
    join(dist, 'server.cjs'),
    `if (require('node:fs').existsSync(${JSON.stringify(flag)})) process.kill(process.pid, 'SIGSTOP');\nrequire('./whole-server.cjs');\n`,
  );
  writeFileSync(flag, '');
  await bench.openText('at-start.phrase', HEAD + QUIET);
  await warnings(1);
  const before = servers().map(({ pid }) => pid);
  await bench.reload();
  await bench.page.locator('.monaco-editor .view-line', { hasText: 'Slipway' }).first().waitFor({ timeout: 60_000 });
  const pid = await serverThere(true, before);
  await bench.open('at-start.phrase');
  await writeClash();
  expect(await bench.saved('at-start.phrase')).toBe(HEAD + CLASH);
  await bench.command('Phrasewright: Cycle the Degrees');
  await bench.page.locator('.statusbar-item', { hasText: 'Degrees are shown for' }).first().waitFor();
  rmSync(flag);
  await startAgain('at-start.phrase', pid);
});
