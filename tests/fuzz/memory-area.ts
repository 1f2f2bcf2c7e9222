/** What a session keeps: after many edits no more than after a few. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import fc from 'fast-check';
import type { Area } from './area';
import { startLocalServer } from './local-server';
import { mutated, mutation, SAMPLES } from './texts';

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

const URI = 'file:///memory.phrase';
/** Memory after so many edits is the measure; where all are fewer than ten times that, after a tenth of them. */
const FIRST = 1000;
const MOST = 1.3;

/** Megabytes in use once garbage is gone. */
async function used(): Promise<number> {
  // What waits for the next turn of the event loop holds on to answers.
  for (let i = 0; i < 3; i += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
    collectGarbage();
  }
  return process.memoryUsage().heapUsed / 2 ** 20;
}

/** Edits of a lesson, each answered with diagnostics; now and then with all that a menu and a score need. */
async function editing(seed: number, times: number): Promise<{ readonly first: number; readonly last: number }> {
  const { connection, close } = await startLocalServer();
  const mutations = fc.sample(mutation, { seed, numRuns: 5000 });
  const lesson = SAMPLES[seed % SAMPLES.length]!;
  let text = lesson;
  let first = 0;
  const measured = Math.min(FIRST, Math.ceil(times / 10));
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri: URI, languageId: 'phrase', version: 1, text } });
  for (let i = 1; i <= times; i += 1) {
    // What a writer broke is mended again, and a text neither grows nor shrinks for ever.
    text = i % 8 === 0 ? lesson : mutated(text, [mutations[(i * 7) % mutations.length]!]);
    await connection.sendNotification('textDocument/didChange', { textDocument: { uri: URI, version: i + 1 }, contentChanges: [{ text }] });
    await connection.sendRequest('textDocument/diagnostic', { textDocument: { uri: URI } });
    if (i % 500 === 0) {
      const position = { line: i % 40, character: i % 60 };
      await connection.sendRequest('textDocument/codeAction', {
        textDocument: { uri: URI },
        range: { start: position, end: position },
        context: { diagnostics: [] },
      });
      await connection.sendRequest('phrasewright/score', { textDocument: { uri: URI }, position, options: { scope: 'lesson' } });
    }
    if (i === measured) first = await used();
  }
  const last = await used();
  close();
  return { first, last };
}

export const memory: Area = {
  name: 'memory',
  share: 0,
  turn: 100_000,
  async batch(seed, inputs) {
    const { first, last } = await editing(seed, inputs);
    const words = `${first.toFixed(1)} MB after ${Math.min(FIRST, Math.ceil(inputs / 10))} edits, ${last.toFixed(1)} MB after ${inputs} (${(last / first).toFixed(2)} times that)`;
    if (last > MOST * first) return { inputs, failure: `seed ${seed}: ${words}` };
    return { inputs, failure: null, note: words };
  },
};
