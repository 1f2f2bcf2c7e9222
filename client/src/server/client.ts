/** The language client: how the server is started, and what it is told of this editor. */
import { LanguageClient, TransportKind, type ErrorHandler, type LanguageClientOptions, type MessageTransports, type Middleware, type ServerOptions } from 'vscode-languageclient/node';

export interface Connecting {
  /** The path of the built server. */
  readonly module: string;
  readonly output: NonNullable<LanguageClientOptions['outputChannel']>;
  readonly middleware: Middleware;
  readonly errorHandler: ErrorHandler;
  /** The address of the page that explains the rules. */
  readonly manual: string;
}

/** A language client that knows when the server it started last is gone. */
export interface ServedClient extends LanguageClient {
  /** Resolves when that server has ended, however late; at once where none was started. */
  serverGone(): Promise<void>;
}

export function createClient({ module, output, middleware, errorHandler, manual }: Connecting): ServedClient {
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6009'] } },
  };
  return new QuietClient('phrasewright', 'Phrasewright', server, {
    documentSelector: [{ language: 'phrase' }],
    outputChannel: output,
    middleware,
    errorHandler,
    // What went wrong is in the output, and the error handler starts the server again.
    initializationFailedHandler: () => false,
    initializationOptions: { manual, goesToPlaces: true, playsPhrases: true, listsActions: true },
  });
}

/** Every failed request and every failed start would bring a message of its own: what there is to say is said once, by the server and by `keepRunning`. */
class QuietClient extends LanguageClient implements ServedClient {
  private gone: Promise<void> = Promise.resolve();

  serverGone(): Promise<void> {
    return this.gone;
  }

  protected override async createMessageTransports(encoding: string): Promise<MessageTransports> {
    const transports = await super.createMessageTransports(encoding);
    this.gone = new Promise((resolve) => void transports.reader.onClose(resolve));
    return transports;
  }

  override error(...[message, data]: Parameters<LanguageClient['error']>): void {
    super.error(message, data, false);
  }
}
