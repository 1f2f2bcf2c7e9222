/** The server hangs in an endless loop, while somebody writes or at its start: the real language client notices, and one restart brings all back. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
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
  for (const pid of servers()) process.kill(pid, 'SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

const openLine = (text: string, offset: number): number => text.slice(0, offset).split('\n').length - 1;
const wanted = (text: string): string[] =>
  findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY)
    .map(({ message, start }) => `${openLine(text, start)}: ${message}`)
    .sort();
const shownIn = (uri: string): string[] =>
  (made.bundle.shown.get(uri) ?? []).map(({ range, message }) => `${range.start.line}: ${message}`).sort();
/** The processes of the server in this test's folder that have not ended: their numbers, since what a process is at changes at any time. */
const servers = (): number[] =>
  execFileSync('ps', ['-eww', '-o', 'stat=,pid=,args='], { encoding: 'utf8' })
    .split('\n')
    .filter((line) => line.includes(made.module) && !line.startsWith('Z'))
    .map((line) => Number(line.trim().split(/\s+/)[1]));

/** A clock of the test's own. */
function openClock() {
  let now = 0;
  const timers = new Set<{ readonly at: number; readonly run: () => void }>();
  return {
    timers,
    now: () => now,
    after(milliseconds: number, run: () => void) {
      const timer = { at: now + milliseconds, run };
      timers.add(timer);
      return () => void timers.delete(timer);
    },
    /** Lets so much time go by for the watch; what the server answers takes its own. */
    go(milliseconds: number): void {
      now += milliseconds;
      for (const timer of [...timers].filter(({ at }) => at <= now)) if (timers.delete(timer)) timer.run();
    },
  };
}

/** The extension's client and the watch of its server, and a document that is open. */
function openClient(path: string, stayedDown: () => void = () => expect.unreachable('gave up')) {
  const { bundle, module } = made;
  const clock = openClock();
  const heard = { told: 0, answered: 0 };
  const watch = bundle.watchSilence(
    clock,
    () =>
      void client.sendRequest(bundle.ALIVE).then(
        () => (heard.answered += 1),
        () => undefined,
      ),
    () => void (heard.told += 1),
  );
  const running = bundle.keepRunning(() => 0, stayedDown);
  const client = bundle.createClient({
    module,
    output: bundle.output as never,
    middleware: watch.middleware,
    errorHandler: running.errorHandler,
    manual: 'file:///RULES.md',
  });
  bundle.watchStates(client, watch);
  const document = bundle.open(path, LESSON);
  bundle.log.length = 0;
  return {
    bundle,
    client,
    running,
    document,
    heard,
    ...clock,
    type: (text: string): void => document.type(document.getText().length, document.getText().length, text),
    isRight: (): Promise<void> =>
      expect.poll(() => shownIn(document.uri.toString()), { timeout: 20_000, interval: 20 }).toEqual(wanted(document.getText())),
  };
}

test('it is said once, nothing typed is lost, and the restart ends the one that hangs before it starts another', {
  timeout: 120_000,
}, async () => {
  const { bundle, client, running, document, heard, timers, go, type, isRight } = openClient('/hanging.phrase');
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
  expect(heard.told).toBe(0);
  // The light question is on its way, and the watch waits for its answer.
  await expect.poll(() => timers.size, { timeout: 20_000 }).toBe(1);
  type(TYPED);
  go(10_010);
  expect(heard).toEqual({ told: 1, answered: 0 });
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
  expect({ told: heard.told, messages: bundle.messages, timers: timers.size }).toEqual({ told: 1, messages: [], timers: 0 });
  await running.stop(client);
  await expect.poll(servers, { timeout: 20_000 }).toEqual([]);
});

describe('a server that hangs at its start', () => {
  const flag = (): string => join(dirname(made.module), 'hang-at-start');
  beforeEach(() => writeFileSync(flag(), ''));
  afterEach(() => rmSync(flag(), { force: true }));
  const isStuck = (): Promise<void> => expect.poll(() => servers().length, { timeout: 20_000 }).toBe(1);

  test('is said once, nothing typed is lost, and the restart ends it before it starts another; that one may hang, too', {
    timeout: 120_000,
  }, async () => {
    const { bundle, client, running, document, heard, timers, go, type, isRight } = openClient('/at-start.phrase');
    let failed = 0;
    client.start().catch(() => (failed += 1));
    await isStuck();
    type(TYPED);
    go(10_010);
    expect(heard.told).toBe(0);
    type('// on\n');
    go(10_010);
    expect(heard).toEqual({ told: 1, answered: 0 });
    go(1_000_000);
    expect(heard.told).toBe(1);

    // Who presses the button twice ends one server, not two.
    const [first] = servers();
    const starts = [running.startAgain(client), running.startAgain(client)].map((start) => start.catch(() => (failed += 1)));
    await expect.poll(() => servers().filter((one) => one !== first).length, { timeout: 20_000 }).toBe(1);
    expect(servers()).not.toContain(first);
    expect(failed).toBe(1);
    type(TYPED);
    go(10_010);
    go(10_010);
    expect(heard.told).toBe(2);

    rmSync(flag());
    await running.startAgain(client);
    await Promise.all(starts);
    expect(failed).toBe(3);
    expect(document.getText()).toBe(`${LESSON}${TYPED}// on\n${TYPED}`);
    await isRight();
    expect(shownIn(document.uri.toString()).length).toBeGreaterThan(0);
    type(TYPED);
    await isRight();
    expect(servers()).toHaveLength(1);
    expect(bundle.log.filter((line) => /started again/.test(line))).toEqual([]);
    expect({ told: heard.told, messages: bundle.messages, timers: timers.size }).toEqual({ told: 2, messages: [], timers: 0 });
    // The new one is watched and kept running as any other: its end counts from none.
    process.kill(servers()[0]!, 'SIGKILL');
    type(TYPED);
    await isRight();
    await running.stop(client);
    await expect.poll(servers, { timeout: 20_000 }).toEqual([]);
  });

  test('is ended with the editor, and no other is started', { timeout: 60_000 }, async () => {
    const { client, running, timers, document } = openClient('/closed.phrase');
    const start = client.start().catch((error: unknown) => error);
    await isStuck();
    await running.stop(client);
    expect(await start).toBeInstanceOf(Error);
    expect(servers()).toEqual([]);
    expect({ isRunning: client.isRunning(), timers: timers.size, text: document.getText() }).toEqual({
      isRunning: false,
      timers: 0,
      text: LESSON,
    });
  });

  test('and answers late is watched no more', { timeout: 60_000 }, async () => {
    rmSync(flag());
    const { client, running, heard, timers, go, isRight } = openClient('/late.phrase');
    const start = client.start();
    go(10_010);
    await start;
    await isRight();
    await expect.poll(() => timers.size, { timeout: 20_000 }).toBe(0);
    go(1_000_000);
    expect(heard.told).toBe(0);
    await running.stop(client);
  });
});
