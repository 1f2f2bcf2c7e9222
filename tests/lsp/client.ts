/** A language client over standard input and output: the only code of these tests that knows the protocol's transport. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import {
  createProtocolConnection, DidChangeTextDocumentNotification, DidOpenTextDocumentNotification, InitializedNotification, InitializeRequest,
  PublishDiagnosticsNotification, StreamMessageReader, StreamMessageWriter, type ClientCapabilities, type Diagnostic, type ProtocolConnection,
} from 'vscode-languageserver/node';

export interface TestClient {
  readonly connection: ProtocolConnection;
  open(uri: string, text: string): Promise<void>;
  change(uri: string, version: number, text: string): Promise<void>;
  /** The next diagnostics that are pushed for a document. */
  nextDiagnostics(uri: string): Promise<Diagnostic[]>;
  close(): Promise<void>;
}

/** Bundles the command line from its sources and starts `serve --stdio`. */
export async function startClient(capabilities: ClientCapabilities): Promise<TestClient> {
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-lsp-'));
  const outfile = join(folder, 'cli.cjs');
  await build({ entryPoints: ['server/src/cli.ts'], bundle: true, platform: 'node', format: 'cjs', keepNames: true, outfile, logLevel: 'error' });
  const child = spawn(process.execPath, [outfile, 'serve', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const waiting = new Map<string, (diagnostics: Diagnostic[]) => void>();
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    waiting.get(uri)?.(diagnostics);
    waiting.delete(uri);
  });
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, { processId: process.pid, rootUri: null, capabilities, workspaceFolders: null });
  await connection.sendNotification(InitializedNotification.type, {});
  return {
    connection,
    open: (uri, text) => connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'phrase', version: 1, text } }),
    change: (uri, version, text) => connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges: [{ text }] }),
    nextDiagnostics: (uri) => new Promise((resolve) => waiting.set(uri, resolve)),
    async close() {
      connection.end();
      connection.dispose();
      child.kill();
      await new Promise((resolve) => child.once('exit', resolve));
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
