/** The server hangs in an endless loop while somebody writes: the real language client notices, and one restart brings all back. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { bundleClient } from './bundle-client';

const LESSON = 'phrase "One"\n  key C major\n  over | Cmaj7 | Dm7 G7 |\n  line | E4-G B-C5 B-A G | F-A C5-E D-B4 G |\n\n';
const TYPED = 'phrase "Two"\n  key C major\n  over | Cmaj7 |\n  line | F4-A C5-E F ~ |\n  lien | A B |\n\n';

let folder: string;
let made: Awaited<ReturnType<typeof bundleClient>>;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-hanging-'));
  made = await bundleClient(folder, 'tests/lsp/hanging-server.ts');
});
afterAll(() => {
  // One that the test could not end would loop for ever.
  for (const line of servers()) process.kill(Number(line.trim().split(/\s+/)[1]), 'SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

const openLine = (text: string, offset: number): number => text.slice(0, offset).split('\n').length - 1;
const wanted = (text: string): string[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).map(({ message, start }) => `${openLine(text, start)}: ${message}`).sort();
const shownIn = (uri: string): string[] => (made.bundle.shown.get(uri) ?? []).map(({ range, message }) => `${range.start.line}: ${message}`).sort();
/** The processes of the server in this test's folder that have not ended. */
const servers = (): string[] => execFileSync('ps', ['-eww', '-o', 'stat=,pid=,args='], { encoding: 'utf8' }).split('\n').filter((line) => line.includes(made.module) && !line.startsWith('Z'));

test('it is said once, nothing typed is lost, and the restart ends the one that hangs before it starts another', { timeout: 120_000 }, async () => {
  const { bundle, module } = made;
  let now = 0;
  const timers = new Set<{ readonly at: number; readonly run: () => void }>();
  /** Lets so much time go by for the watch; what the server answers takes its own. */
  const go = (milliseconds: number): void => {
    now += milliseconds;
    for (const timer of [...timers].filter(({ at }) => at <= now)) if (timers.delete(timer)) timer.run();
  };
  const clock = {
    now: () => now,
    after(milliseconds: number, run: () => void) {
      const timer = { at: now + milliseconds, run };
      timers.add(timer);
      return () => void timers.delete(timer);
    },
  };
  let told = 0;
  let answered = 0;
  const watch = bundle.watchSilence(clock, () => void client.sendRequest(bundle.ALIVE).then(() => (answered += 1), () => undefined), () => void (told += 1));
  const running = bundle.keepRunning(() => 0, () => expect.unreachable('gave up'));
  const client = bundle.createClient({ module, output: bundle.output as never, middleware: watch.middleware, errorHandler: running.errorHandler, manual: 'file:///RULES.md' });
  client.onDidChangeState(watch.beginAnew);
  const document = bundle.open('/hanging.phrase', LESSON);
  const type = (text: string): void => document.type(document.getText().length, document.getText().length, text);
  const isRight = (): Promise<void> => expect.poll(() => shownIn(document.uri.toString()), { timeout: 20_000, interval: 20 }).toEqual(wanted(document.getText()));

  await client.start();
  await isRight();
  // A server that lives answers what is light.
  await client.sendRequest(bundle.ALIVE);
  expect(servers()).toHaveLength(1);
  const before = shownIn(document.uri.toString());

  type('// hang here\n');
  type(TYPED);
  await expect.poll(() => timers.size, { timeout: 20_000 }).toBe(1);
  go(10_010);
  expect(told).toBe(0);
  // The light question is on its way, and the watch waits for its answer.
  await expect.poll(() => timers.size, { timeout: 20_000 }).toBe(1);
  type(TYPED);
  go(10_010);
  expect({ told, answered }).toEqual({ told: 1, answered: 0 });
  expect(shownIn(document.uri.toString())).toEqual(before);

  await running.startAgain(client);
  expect(document.getText()).toBe(`${LESSON}// hang here\n${TYPED}${TYPED}`);
  await isRight();
  expect(shownIn(document.uri.toString())).not.toEqual(before);
  expect(servers()).toHaveLength(1);
  // The end of the old one is no end of the new one: that goes on, and what is typed now is read.
  type(TYPED);
  await isRight();
  expect(bundle.log.filter((line) => /started again/.test(line))).toEqual([]);
  expect({ told, messages: bundle.messages, timers: timers.size }).toEqual({ told: 1, messages: [], timers: 0 });
  await client.stop();
  await expect.poll(servers, { timeout: 20_000 }).toEqual([]);
});
