/** A language client over standard input and output: the only code of these tests that knows the protocol's transport. */
import { spawn } from 'node:child_process';
import {
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  StreamMessageReader,
  StreamMessageWriter,
  type ClientCapabilities,
  type Diagnostic,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver/node';
import { bundledCli } from './bundles';

export interface TestClient {
  readonly connection: ProtocolConnection;
  open(uri: string, text: string): Promise<void>;
  change(uri: string, version: number, text: string): Promise<void>;
  /** Changes parts of a document, each range counted in the text as the change before it left it. */
  edit(uri: string, version: number, changes: TextDocumentContentChangeEvent[]): Promise<void>;
  /** The next diagnostics that are pushed for a document. */
  nextDiagnostics(uri: string): Promise<Diagnostic[]>;
  /** All diagnostics that were pushed so far. */
  readonly pushed: readonly PublishDiagnosticsParams[];
  close(): Promise<void>;
}

/**
 * Starts `serve --stdio`. `prepare` answers what the server asks while it starts.
 */
export async function startClient(
  capabilities: ClientCapabilities,
  prepare: (connection: ProtocolConnection) => void = () => {},
  initializationOptions?: Readonly<Record<string, unknown>>,
): Promise<TestClient> {
  const child = spawn(process.execPath, [await bundledCli(), 'serve', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const waiting = new Map<string, (diagnostics: Diagnostic[]) => void>();
  const pushed: PublishDiagnosticsParams[] = [];
  prepare(connection);
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    const { uri, diagnostics } = params;
    pushed.push(params);
    waiting.get(uri)?.(diagnostics);
    waiting.delete(uri);
  });
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    capabilities,
    workspaceFolders: null,
    initializationOptions,
  });
  await connection.sendNotification(InitializedNotification.type, {});
  return {
    connection,
    open: (uri, text) =>
      connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'phrase', version: 1, text } }),
    change: (uri, version, text) =>
      connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges: [{ text }] }),
    edit: (uri, version, contentChanges) =>
      connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges }),
    pushed,
    nextDiagnostics: (uri) => new Promise((resolve) => waiting.set(uri, resolve)),
    async close() {
      connection.end();
      connection.dispose();
      child.kill();
      await new Promise((resolve) => child.once('exit', resolve));
    },
  };
}
