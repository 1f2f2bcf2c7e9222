/** The server and a client of it in one process, over streams: all of the protocol but the process of its own. */
import { PassThrough } from 'node:stream';
import {
  createConnection,
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type ProtocolConnection,
} from 'vscode-languageserver/node';
import { startServer } from '../../server/src/protocol/server';

export interface LocalServer {
  readonly connection: ProtocolConnection;
  /** What the server logged as errors since this was asked last. */
  complaints(): string[];
  close(): void;
}

/** Each client says that it can do all that the server asks about. */
const CAPABILITIES = {
  textDocument: {
    diagnostic: {},
    codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] } },
    completion: { completionItem: { snippetSupport: true } },
  },
  workspace: { workspaceEdit: { documentChanges: true } },
};

export async function startLocalServer(): Promise<LocalServer> {
  const [up, down] = [new PassThrough(), new PassThrough()];
  // Handed readers, not streams: the library ends the process where a stream of its own ends.
  const server = createConnection(new StreamMessageReader(up), new StreamMessageWriter(down));
  startServer(server, 'RULES.md');
  const connection = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up));
  const logged: string[] = [];
  connection.onNotification('window/logMessage', ({ type, message }: { type: number; message: string }) => {
    if (type === 1) logged.push(message);
  });
  connection.listen();
  await connection.sendRequest('initialize', {
    processId: null,
    rootUri: null,
    capabilities: CAPABILITIES,
    workspaceFolders: null,
    initializationOptions: { goesToPlaces: true, listsActions: true, playsPhrases: true },
  });
  await connection.sendNotification('initialized', {});
  return {
    connection,
    complaints: () => logged.splice(0),
    close() {
      connection.dispose();
      server.dispose();
    },
  };
}
