/**
 * How long a keystroke takes to reach its diagnostics, in a file of 1,000 lines, beside a JSON language server in the same run.
 * Prints medians as a ratio (below 1: faster than the JSON server) and fails above 1. Then runs `actions.mjs`, `score.mjs` and `level.mjs`. Run after `npm run build`.
 */
import { spawn, spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';

const require = createRequire(import.meta.url);
const ROUNDS = 120;
const WARM_UP = 20;

const phrases = Array.from({ length: 200 }, (_, i) => `phrase "Number ${i}"\n  key     C major\n  over    | Dm7 G7 | Cmaj7 |\n  line    | D4-F A-C B-G F-D | E G C ~ |\n`).join('\n').split('\n').slice(0, 1000).join('\n');
const json = `[\n${Array.from({ length: 998 }, (_, i) => `  { "id": ${i}, "name": "entry ${i}", "tags": ["a", "b"], "size": ${i * 3} }`).join(',\n')}\n]`;

/** A server under test: how it starts, a document of 1,000 lines, and what is typed where. */
const CONTENDERS = {
  phrasewright: { args: ['dist/cli.cjs', 'serve', '--stdio'], languageId: 'phrase', text: phrases, line: 503, character: 14, typed: '1' },
  json: { args: [require.resolve('vscode-langservers-extracted/bin/vscode-json-language-server'), '--stdio'], languageId: 'json', text: json, line: 503, character: 12, typed: 'x' },
};

async function start({ args, languageId, text }) {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'ignore'] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }) => items.map(() => null));
  connection.listen();
  await connection.sendRequest('initialize', { processId: process.pid, rootUri: null, workspaceFolders: null, capabilities: { textDocument: { diagnostic: { dynamicRegistration: true } } } });
  await connection.sendNotification('initialized', {});
  const uri = `file:///bench.${languageId}`;
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId, version: 1, text } });
  return { child, connection, uri, version: 1 };
}

/** Types a character and takes it back; answers the milliseconds until both answers have come. */
async function keystrokes(server, { line, character, typed }) {
  const begin = performance.now();
  for (const [text, length] of [[typed, 0], ['', 1]]) {
    server.version += 1;
    const range = { start: { line, character }, end: { line, character: character + length } };
    await server.connection.sendNotification('textDocument/didChange', { textDocument: { uri: server.uri, version: server.version }, contentChanges: [{ range, text }] });
    const report = await server.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri: server.uri } });
    if (!Array.isArray(report.items)) throw new Error('no diagnostics came');
    if (text !== '' && report.items.length === 0) throw new Error('the keystroke was to make a mistake');
  }
  return performance.now() - begin;
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

const servers = Object.fromEntries(await Promise.all(Object.entries(CONTENDERS).map(async ([name, contender]) => [name, await start(contender)])));
const times = { phrasewright: [], json: [] };
for (let round = 0; round < ROUNDS + WARM_UP; round += 1) {
  // The two take turns, so that whatever else the machine does troubles both alike.
  for (const name of Object.keys(CONTENDERS)) {
    const taken = await keystrokes(servers[name], CONTENDERS[name]);
    if (round >= WARM_UP) times[name].push(taken);
  }
}
for (const { child, connection } of Object.values(servers)) {
  connection.dispose();
  child.kill();
}
const ratio = median(times.phrasewright) / median(times.json);
console.log(`keystroke to diagnostics, 1,000 lines, median of ${ROUNDS}: ${ratio.toFixed(2)} of the JSON server’s time`);
// A process of its own, when the servers above have ended: neither measurement troubles the other.
const actions = spawnSync(process.execPath, ['tests/bench/actions.mjs'], { stdio: 'inherit' });
const score = spawnSync(process.execPath, ['tests/bench/score.mjs'], { stdio: 'inherit' });
const level = spawnSync(process.execPath, ['tests/bench/level.mjs'], { stdio: 'inherit' });
process.exitCode = ratio <= 1 && actions.status === 0 && score.status === 0 && level.status === 0 ? 0 : 1;
