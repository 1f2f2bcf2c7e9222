/** A burst of messages in one piece, as an editor sends them after a keystroke: in which order they are answered, and for which text. */
import { spawn, type ChildProcess } from 'node:child_process';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { LSPErrorCodes, StreamMessageReader, type Message } from 'vscode-languageserver/node';
import { bundledCli } from './bundles';

const URI = 'file:///burst.phrase';
const PHRASE = '  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D | E G C ~ |\n\n';
/** Long enough that its phrases are not read in one stretch. */
const TEXT = Array.from({ length: 300 }, (_, i) => `phrase "Number ${i}"\n${PHRASE}`).join('');

interface Answer {
  readonly id: number;
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

let child: ChildProcess;
const answers: Answer[] = [];
let arrived: () => void = () => {};

beforeAll(async () => {
  child = spawn(process.execPath, [await bundledCli(), 'serve', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  new StreamMessageReader(child.stdout!).listen((message: Message) => {
    if (!('id' in message) || 'method' in message) return;
    answers.push(message as unknown as Answer);
    arrived();
  });
  await answersTo(request(1, 'initialize', { processId: process.pid, rootUri: null, capabilities: { textDocument: { diagnostic: {} } } }));
  send(notification('initialized', {}));
});

afterAll(async () => {
  const ended = new Promise((resolve) => child.once('exit', resolve));
  child.kill();
  await ended;
});

const request = (id: number, method: string, params: object): object => ({ jsonrpc: '2.0', id, method, params });
const notification = (method: string, params: object): object => ({ jsonrpc: '2.0', method, params });

/** Writes all messages at once: the server reads them before it answers any. */
function send(...messages: readonly object[]): void {
  child.stdin!.write(
    messages
      .map((message) => {
        const text = JSON.stringify(message);
        return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
      })
      .join(''),
  );
}

/** Sends messages, and answers the answers to their requests in the order in which they come. */
async function answersTo(...messages: readonly object[]): Promise<readonly Answer[]> {
  const ids = messages.flatMap((message) => ('id' in message ? [message.id] : []));
  answers.length = 0;
  send(...messages);
  while (ids.some((id) => !answers.some((answer) => answer.id === id))) await new Promise<void>((resolve) => (arrived = resolve));
  return [...answers];
}

const open = (text: string): object =>
  notification('textDocument/didOpen', { textDocument: { uri: URI, languageId: 'phrase', version: 1, text } });
const close = notification('textDocument/didClose', { textDocument: { uri: URI } });
const change = (version: number, text: string, line: number): object =>
  notification('textDocument/didChange', {
    textDocument: { uri: URI, version },
    contentChanges: [{ range: { start: { line, character: 0 }, end: { line, character: 0 } }, text }],
  });
const at = { textDocument: { uri: URI }, position: { line: 3, character: 9 } };
const whole = { textDocument: { uri: URI } };
const cancel = (id: number): object => notification('$/cancelRequest', { id });

test('hover and findings are answered before lenses and score that were asked for first', async () => {
  send(open(TEXT));
  const order = await answersTo(
    request(10, 'phrasewright/score', at),
    request(11, 'textDocument/codeLens', whole),
    request(12, 'textDocument/documentSymbol', whole),
    request(13, 'textDocument/hover', at),
    request(14, 'textDocument/diagnostic', whole),
  );
  expect(order.map(({ id }) => id)).toEqual([13, 14, 12, 10, 11]);
  expect(order.filter(({ error }) => error !== undefined)).toEqual([]);
  send(close);
});

test('what the text overtakes is answered for the newest text, and never as an error', async () => {
  send(open(TEXT));
  const found = await answersTo(
    request(20, 'textDocument/documentSymbol', whole),
    request(21, 'textDocument/codeLens', whole),
    request(22, 'phrasewright/score', at),
    change(2, 'phrase "New"\n  line | C4 ~ ~ ~ |\n', 0),
    request(23, 'textDocument/diagnostic', whole),
    change(3, 'phrase "Newer"\n  line | C4 ~ ~ |\n', 0),
  );
  expect(found.filter(({ error }) => error !== undefined)).toEqual([]);
  const resultOf = (id: number): unknown => found.find((one) => one.id === id)!.result;
  expect(resultOf(22)).toMatchObject({ version: 3 });
  expect((resultOf(23) as { items: { code: string }[] }).items.map(({ code }) => code)).toEqual(['bar-length']);
  expect((resultOf(20) as { name: string }[]).slice(0, 3).map(({ name }) => name)).toEqual(['Newer', 'New', 'Number 0']);
  expect(resultOf(21)).toHaveLength(302);
  send(close);
});

test('what is cancelled is answered so, at once, and the rest goes on', async () => {
  send(open(TEXT));
  const found = await answersTo(
    request(30, 'phrasewright/score', at),
    request(31, 'textDocument/codeLens', whole),
    request(32, 'textDocument/hover', at),
    cancel(30),
    cancel(31),
  );
  expect(Object.fromEntries(found.map(({ id, error }) => [id, error?.code]))).toEqual({
    30: LSPErrorCodes.RequestCancelled,
    31: LSPErrorCodes.RequestCancelled,
    32: undefined,
  });
  send(close);
});

test('a document that is opened twice under one version is taken at its last text, also after an edit', async () => {
  const names = async (id: number, ...before: readonly object[]): Promise<string[]> => {
    const [answer] = await answersTo(...before, request(id, 'textDocument/documentSymbol', whole));
    return (answer!.result as { name: string }[]).map(({ name }) => name);
  };
  expect(await names(40, open('phrase "A"\n  line | C4 |\n'))).toEqual(['A']);
  expect(await names(41, open('phrase "B"\n  line | C4 |\n'))).toEqual(['B']);
  expect(await names(42, open('// First.\nphrase "C"\n  line | C4 |\n'), change(2, '\nphrase "D"\n', 3))).toEqual(['C', 'D']);
  send(close);
});
