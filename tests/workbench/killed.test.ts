/** The server is killed while somebody writes, and files change under the editor: what was typed stays, what is shown is right again. */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();

const HEAD = 'phrase "Slipway"\n  key C major\n  over | Cmaj7 | Cmaj7 |\n';
const CLASH = '  line | F4 A C5 E | F4 A C5 E |';

/** The process of this editor's language server, by its command line. */
function serverPid(): number | null {
  const home = dirname(bench.folder);
  const lines = execFileSync('ps', ['-eww', '-o', 'pid=,args='], { encoding: 'utf8' }).split('\n');
  const line = lines.find((one) => one.includes(home) && /dist\/server\.cjs --node-ipc/.test(one));
  return line === undefined ? null : Number(line.trim().split(' ')[0]);
}

/** Kills it, waiting first for it to be there. */
async function kill(): Promise<void> {
  for (let tries = 0; tries < 100; tries += 1) {
    const pid = serverPid();
    if (pid !== null) {
      process.kill(pid, 'SIGKILL');
      return;
    }
    await bench.page.waitForTimeout(100);
  }
  throw new Error('The server is not there.');
}

const warnings = (count: number): Promise<void> => expect.poll(() => bench.squiggles('warning').count(), { timeout: 20_000 }).toBe(count);

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
