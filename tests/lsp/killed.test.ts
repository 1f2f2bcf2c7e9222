/** The server is killed while somebody writes: the real language client starts it again, and what is shown is right for all that was typed. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { LanguageClient } from 'vscode-languageclient/node';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { randomOf } from '../../server/src/exercises/random';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { bundleClient } from './bundle-client';

/** Milliseconds: what takes so long hangs. */
const HANGS = 60_000;
/** `KILLS=200` kills more often. */
const KILLS = Number(process.env['KILLS'] ?? 24);
const LESSON = 'phrase "One"\n  key C major\n  over | Cmaj7 | Dm7 G7 |\n  line | E4-G B-C5 B-A G | F-A C5-E D-B4 G |\n\n';
/** Clashes and errors, so that every text has findings of its own. */
const TYPED = 'phrase "Two"\n  key C major\n  over | Cmaj7 |\n  line | F4-A C5-E F ~ |\n  lien | A B |\n\n'.repeat(KILLS);

let folder: string;
let made: Awaited<ReturnType<typeof bundleClient>>;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-killed-'));
  made = await bundleClient(folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const wait = (milliseconds: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, milliseconds));
/** The id of the server's process, which the client tells nobody. */
const pidOf = (client: LanguageClient): number | undefined =>
  (client as unknown as { _serverProcess?: { pid?: number } })._serverProcess?.pid;
const kill = (client: LanguageClient): boolean => {
  const pid = pidOf(client);
  try {
    return pid !== undefined && process.kill(pid, 'SIGKILL');
  } catch {
    // It has ended, and the client has not noticed.
    return false;
  }
};
const wanted = (text: string): string[] =>
  findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY)
    .map(({ message, start }) => `${openLine(text, start)}: ${message}`)
    .sort();
const openLine = (text: string, offset: number): number => text.slice(0, offset).split('\n').length - 1;
const shownIn = (uri: string): string[] =>
  (made.bundle.shown.get(uri) ?? []).map(({ range, message }) => `${range.start.line}: ${message}`).sort();

/**
 * `ended` is the process that was killed. A client that has not noticed the end takes itself for running, and so does one that
 * has noticed it and asks its error handler what to do: that one has no process.
 */
function untilRunning(client: LanguageClient, ended: number | undefined): Promise<void> {
  return until(() => client.isRunning() && pidOf(client) !== undefined && pidOf(client) !== ended);
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

const until = (isSo: () => boolean): Promise<void> => expect.poll(isSo, { timeout: HANGS, interval: 5 }).toBe(true);

/** Milliseconds until the editor shows what it should. */
async function untilRight(document: { readonly uri: { toString(): string }; getText(): string }): Promise<number> {
  const from = performance.now();
  const right = JSON.stringify(wanted(document.getText()));
  while (performance.now() - from < HANGS && JSON.stringify(shownIn(document.uri.toString())) !== right) await wait(2);
  expect(shownIn(document.uri.toString())).toEqual(JSON.parse(right));
  return performance.now() - from;
}

test(`${KILLS} times it is killed while somebody writes, nothing typed is lost, and the findings are right again`, {
  timeout: HANGS + 5000 * KILLS,
}, async () => {
  const { bundle, module } = made;
  const random = randomOf(14);
  // Ends lie a minute apart on this clock, so that the client never gives up.
  let minute = 0;
  const running = bundle.keepRunning(
    () => minute * 60_000,
    () => expect.unreachable('gave up'),
  );
  const client = bundle.createClient({
    module,
    output: bundle.output as never,
    middleware: {},
    errorHandler: running.errorHandler,
    manual: 'file:///RULES.md',
  });
  const from = performance.now();
  const document = bundle.open('/killed.phrase', LESSON);
  await client.start();
  await untilRight(document);
  const first = performance.now() - from;
  /** Milliseconds, by whether the server was killed again at its start. */
  const waits: Record<'once' | 'again', number[]> = { once: [], again: [] };
  let at = 0;
  let ended: number | undefined;
  const type = (count: number): void => {
    for (const end = at + count; at < end; at += 1)
      document.type(document.getText().length, document.getText().length, TYPED[at % TYPED.length]!);
  };
  for (let kills = 0; kills < KILLS; ) {
    // Keys every few milliseconds; the kill falls anywhere between two of them, in a start too.
    const keys = random.below(12);
    for (let key = 0; key < keys; key += 1) {
      type(1);
      await wait(random.below(8));
    }
    minute += 1;
    ended = pidOf(client);
    if (!kill(client)) {
      await wait(1);
      continue;
    }
    kills += 1;
    type(3);
    // Every third time it is killed again before it is there.
    if (kills % 3 === 0) {
      await wait(random.below(250));
      continue;
    }
    waits[kills % 3 === 1 && kills > 1 ? 'again' : 'once'].push(await untilRight(document));
  }
  await untilRunning(client, ended);
  await untilRight(document);
  expect(document.getText()).toBe(LESSON + TYPED.repeat(2).slice(0, at));
  expect(bundle.messages).toEqual([]);
  console.log(
    `killed ${KILLS} times: right again after at most ${Math.round(Math.max(...waits.once, ...waits.again))} ms; the first start took ${Math.round(first)} ms`,
  );
  // The middle one of each, since another job may hold up a few: a delay of ours would lengthen most.
  for (const middle of Object.values(waits).map(median)) expect(middle).toBeLessThan(Math.max(2000, 4 * first));
  await client.stop();
});

test('five ends at once leave it down with one message, and it can be started again', { timeout: 3 * HANGS }, async () => {
  const { bundle, module } = made;
  bundle.messages.length = 0;
  let told = 0;
  const running = bundle.keepRunning(
    () => 0,
    () => void (told += 1),
  );
  const client = bundle.createClient({
    module,
    output: bundle.output as never,
    middleware: {},
    errorHandler: running.errorHandler,
    manual: 'file:///RULES.md',
  });
  const document = bundle.open('/five.phrase', LESSON);
  await client.start();
  let ended: number | undefined;
  for (let kills = 0; kills < 5; kills += 1) {
    // What is shown may be right before the new server is there, and one that is not there cannot be killed.
    await untilRunning(client, ended);
    await untilRight(document);
    ended = pidOf(client);
    expect(kill(client)).toBe(true);
    document.type(document.getText().length, document.getText().length, TYPED.slice(19 * kills, 19 * (kills + 1)));
  }
  await until(() => told > 0 && !client.isRunning());
  expect({ told, isRunning: client.isRunning(), messages: bundle.messages }).toEqual({ told: 1, isRunning: false, messages: [] });
  expect(document.getText()).toBe(LESSON + TYPED.slice(0, 95));
  await running.startAgain(client);
  await untilRight(document);
  // The count begins anew: the next end is got over.
  ended = pidOf(client);
  kill(client);
  await untilRunning(client, ended);
  await untilRight(document);
  expect(told).toBe(1);
  await client.stop();
});
