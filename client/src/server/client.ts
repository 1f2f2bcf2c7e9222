/** The language client: how the server is started, and what it is told of this editor. */
import type { ChildProcess } from 'node:child_process';
import {
  LanguageClient,
  State,
  TransportKind,
  type Disposable,
  type ErrorHandler,
  type LanguageClientOptions,
  type MessageTransports,
  type Middleware,
  type ServerOptions,
} from 'vscode-languageclient/node';
import type { WatchSilence } from './watch-silence';

export interface Connecting {
  /** The path of the built server. */
  readonly module: string;
  readonly output: NonNullable<LanguageClientOptions['outputChannel']>;
  readonly middleware: Middleware;
  readonly errorHandler: ErrorHandler;
  /** The address of the page that explains the rules. */
  readonly manual: string;
}

/** A language client that knows the server it started last. */
export interface ServedClient extends LanguageClient {
  /** Ends that server's process at once, whatever it is at. */
  endServer(): void;
  /** Resolves when that server has ended, however late, and the client has dealt with it; at once where none was started. */
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
    initializationOptions: { manual, goesToPlaces: true, playsPhrases: true, listsActions: true, opensLists: true },
  });
}

/** Tells the watch of every server that starts, is there or has ended. */
export function watchStates(client: ServedClient, { starts, beginAnew }: Pick<WatchSilence, 'starts' | 'beginAnew'>): Disposable {
  return client.onDidChangeState(({ newState }) => (newState === State.Starting ? starts() : beginAnew()));
}

/** Every failed request and every failed start would bring a message of its own: what there is to say is said once, by the server and by `keepRunning`. */
class QuietClient extends LanguageClient implements ServedClient {
  private gone: Promise<void> = Promise.resolve();
  private dealtWith: Promise<void> = Promise.resolve();
  /** The client itself forgets a process that it was told to stop, though it may live on. */
  private started: ChildProcess | undefined;

  endServer(): void {
    this.started?.kill('SIGKILL');
  }

  serverGone(): Promise<void> {
    return this.gone;
  }

  protected override async createMessageTransports(encoding: string): Promise<MessageTransports> {
    this.started = undefined;
    this.gone = Promise.resolve();
    const transports = await super.createMessageTransports(encoding);
    this.started = this.serverProcess;
    // The client hears of the end after us, and deals with it.
    this.gone = new Promise((resolve) => void transports.reader.onClose(() => queueMicrotask(() => resolve(this.dealtWith))));
    return transports;
  }

  protected override handleConnectionClosed(): Promise<void> {
    this.dealtWith = super.handleConnectionClosed();
    return this.dealtWith;
  }

  override error(...[message, data]: Parameters<LanguageClient['error']>): void {
    super.error(message, data, false);
  }
}
