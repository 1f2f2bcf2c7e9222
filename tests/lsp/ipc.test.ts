/** The server as the extension starts it: a module of its own, over the channel between processes. */
import { fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { expect, test } from 'vitest';
import {
  createProtocolConnection,
  InitializeRequest,
  IPCMessageReader,
  IPCMessageWriter,
  ShutdownRequest,
  ExitNotification,
} from 'vscode-languageserver/node';

test('answers over the channel, and ends when it is told to', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-ipc-'));
  const outfile = join(folder, 'server.cjs');
  await build({ entryPoints: ['server/src/start-server.ts'], bundle: true, platform: 'node', format: 'cjs', outfile, logLevel: 'error' });
  const child = fork(outfile, ['--node-ipc'], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const ended = new Promise((resolve) => child.once('exit', resolve));
  const connection = createProtocolConnection(new IPCMessageReader(child), new IPCMessageWriter(child));
  connection.listen();
  const { capabilities, serverInfo } = await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    capabilities: {},
    workspaceFolders: null,
  });
  expect(serverInfo!.name).toBe('phrasewright');
  expect(capabilities).toMatchObject({ hoverProvider: true, completionProvider: {}, renameProvider: {}, diagnosticProvider: {} });
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  expect(await ended).toBe(0);
  connection.dispose();
  rmSync(folder, { recursive: true, force: true });
});
