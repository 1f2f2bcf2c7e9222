/** Language servers under test over standard input and output: ours and one of JSON, each with one open document. */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';

const require = createRequire(import.meta.url);
const COMMANDS = {
  phrase: ['dist/cli.cjs', 'serve', '--stdio'],
  json: [require.resolve('vscode-langservers-extracted/bin/vscode-json-language-server'), '--stdio'],
};
const CAPABILITIES = {
  textDocument: {
    diagnostic: { dynamicRegistration: true },
    codeLens: { resolveSupport: { properties: ['command'] } },
    codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] } },
  },
};
const OPTIONS = { playsPhrases: true, goesToPlaces: true, listsActions: true };

/** Starts a server; `node` are arguments for Node itself, `env` more of the environment. */
export async function startServer(languageId, { node = [], env = {} } = {}) {
  const child = spawn(process.execPath, [...node, ...COMMANDS[languageId]], {
    stdio: ['pipe', 'pipe', 'ignore'],
    env: { ...process.env, ...env },
  });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }) => items.map(() => null));
  connection.listen();
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: null,
    capabilities: CAPABILITIES,
    initializationOptions: OPTIONS,
  });
  await connection.sendNotification('initialized', {});
  return { child, connection, uri: `file:///bench.${languageId}`, version: 0 };
}

/** Opens a document and waits for its first diagnostics; answers the milliseconds that took. */
export async function openDocument(server, { languageId, text }) {
  const begin = performance.now();
  server.version += 1;
  await server.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: server.uri, languageId, version: server.version, text },
  });
  await diagnostics(server);
  return performance.now() - begin;
}

/** Types the characters of a document where it says, or takes them back, and tells as our editor does where somebody writes. */
export async function type(server, { line, character, typed, isWriting = false }, back) {
  server.version += 1;
  const range = { start: { line, character }, end: { line, character: character + (back ? typed.length : 0) } };
  await server.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: server.uri, version: server.version },
    contentChanges: [{ range, text: back ? '' : typed }],
  });
  if (isWriting)
    await server.connection.sendNotification('phrasewright/writing', {
      textDocument: { uri: server.uri, version: server.version },
      positions: [{ line, character: character + (back ? 0 : typed.length) }],
    });
}

export async function diagnostics(server) {
  const report = await server.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri: server.uri } });
  if (!Array.isArray(report.items)) throw new Error('no diagnostics came');
  return report.items;
}

/** Types and takes back what changes no finding, asking for diagnostics after each as an editor does, which names the report that it has; answers the milliseconds until the second answer. */
export async function quietKeystrokes(server, document) {
  const ask = async () => {
    const { kind, resultId } = await server.connection.sendRequest('textDocument/diagnostic', {
      textDocument: { uri: server.uri },
      previousResultId: server.resultId,
    });
    server.resultId = resultId;
    return kind;
  };
  if (server.resultId === undefined) await ask();
  const begin = performance.now();
  await type(server, document, false);
  const kinds = [await ask()];
  await type(server, document, true);
  kinds.push(await ask());
  const taken = performance.now() - begin;
  if (kinds.some((kind) => kind !== 'unchanged')) throw new Error('the keystroke was to change no finding');
  return taken;
}

/** Types and takes back, asking for diagnostics after each; answers the milliseconds until the second answer. */
export async function keystrokes(server, document) {
  const begin = performance.now();
  await type(server, document, false);
  const wrong = await diagnostics(server);
  await type(server, document, true);
  await diagnostics(server);
  const taken = performance.now() - begin;
  if (wrong.length === 0) throw new Error('the keystroke was to make a mistake');
  return taken;
}

/** Ends a server as an editor does, so that what watches it can write what it saw. */
export async function stopServer({ child, connection }) {
  const ended = new Promise((resolve) => child.once('exit', resolve));
  await connection.sendRequest('shutdown').catch(() => undefined);
  await connection.sendNotification('exit').catch(() => undefined);
  await ended;
  connection.dispose();
}

/** Megabytes that a process holds in memory, as the system counts them; null where it does not say. */
export function memoryOf({ child }) {
  try {
    return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'))[1]) / 1024;
  } catch {
    return null;
  }
}

export function share(values, part) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))];
}

export const median = (values) => share(values, 0.5);
