/** The language server as a process: over IPC for the editor, over standard input and output for any other. */
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from './protocol/server';

/** Serves until the client ends; the transport is read from the arguments (`--node-ipc`, `--stdio`). */
export function serve(): void {
  const manual = pathToFileURL(join(__dirname, '..', 'server', 'src', 'rules', 'RULES.md')).href;
  startServer(createConnection(ProposedFeatures.all), manual);
}
