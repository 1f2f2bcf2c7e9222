/**
 * What the language client asks of an editor, without one: documents that are typed in, findings that are shown, messages. It stands in
 * for the module `vscode`; `bundle-client.ts` gives an empty class for every name that is not here.
 */
import { TextDocument as Text } from 'vscode-languageserver-textdocument';

type Listener<T> = (event: T) => unknown;

export class Disposable {
  constructor(private readonly end: () => void = () => undefined) {}
  static from(...all: { dispose(): unknown }[]): Disposable {
    return new Disposable(() => all.forEach((one) => one.dispose()));
  }
  dispose(): void {
    this.end();
  }
}

export class EventEmitter<T> {
  private readonly listeners = new Set<Listener<T>>();
  readonly event = (listener: Listener<T>, self?: unknown, all?: Disposable[]): Disposable => {
    const bound = self === undefined ? listener : (listener.bind(self) as Listener<T>);
    this.listeners.add(bound);
    const one = new Disposable(() => void this.listeners.delete(bound));
    all?.push(one);
    return one;
  };
  /** What a listener throws, be it later, goes to the log, as in the editor. */
  fire(event: T): void {
    for (const listener of [...this.listeners]) Promise.resolve(listener(event)).catch((error: unknown) => log.push(String(error)));
  }
  dispose(): void {
    this.listeners.clear();
  }
}

export class CancellationError extends Error {}

export class CancellationTokenSource {
  private readonly cancelled = new EventEmitter<void>();
  readonly token = { isCancellationRequested: false, onCancellationRequested: this.cancelled.event };
  cancel(): void {
    this.token.isCancellationRequested = true;
    this.cancelled.fire();
  }
  dispose(): void {
    this.cancelled.dispose();
  }
}

export class Uri {
  readonly authority = '';
  readonly query = '';
  readonly fragment = '';
  constructor(
    readonly scheme: string,
    readonly path: string,
  ) {}
  static parse(text: string): Uri {
    const { protocol, pathname } = new URL(text);
    return new Uri(protocol.slice(0, -1), pathname);
  }
  static file(path: string): Uri {
    return new Uri('file', path);
  }
  get fsPath(): string {
    return this.path;
  }
  toString(): string {
    return `${this.scheme}://${this.path}`;
  }
}

export class Position {
  constructor(
    readonly line: number,
    readonly character: number,
  ) {}
}
export class Range {
  readonly start: Position;
  readonly end: Position;
  constructor(line: number, character: number, endLine: number, endCharacter: number) {
    this.start = new Position(line, character);
    this.end = new Position(endLine, endCharacter);
  }
}
export class Diagnostic {
  code: unknown;
  constructor(
    readonly range: Range,
    readonly message: string,
    readonly severity: number,
  ) {}
}
export class TabInputText {
  constructor(readonly uri: Uri) {}
}

export class CodeActionKind {
  static readonly Empty = new CodeActionKind('');
  constructor(readonly value: string) {}
  append(part: string): CodeActionKind {
    return new CodeActionKind(this.value === '' ? part : `${this.value}.${part}`);
  }
}

export const DiagnosticSeverity = { Error: 0, Warning: 1, Information: 2, Hint: 3 };
export const LogLevel = { Off: 0, Trace: 1, Debug: 2, Info: 3, Warning: 4, Error: 5 };
export const version = '1.120.0';
export const env = { appName: 'test', language: 'en', isTelemetryEnabled: false };

/** A document that is open; its text is what was typed. */
export class Document {
  readonly languageId = 'phrase';
  readonly isClosed = false;
  readonly isUntitled = false;
  private text: Text;
  constructor(
    readonly uri: Uri,
    content: string,
  ) {
    this.text = Text.create(uri.toString(), 'phrase', 1, content);
  }
  get version(): number {
    return this.text.version;
  }
  get lineCount(): number {
    return this.text.lineCount;
  }
  getText(): string {
    return this.text.getText();
  }
  positionAt(offset: number): Position {
    const { line, character } = this.text.positionAt(offset);
    return new Position(line, character);
  }
  /** As a writer does: puts a text in place of what stands between two offsets. */
  type(start: number, end: number, typed: string): void {
    const [from, to] = [this.positionAt(start), this.positionAt(end)];
    const range = new Range(from.line, from.character, to.line, to.character);
    Text.update(this.text, [{ range, text: typed }], this.version + 1);
    events.changed.fire({
      document: this,
      contentChanges: [{ range, rangeOffset: start, rangeLength: end - start, text: typed }],
      reason: undefined,
    });
  }
}

const events = {
  changed: new EventEmitter<unknown>(),
  opened: new EventEmitter<Document>(),
  never: new EventEmitter<unknown>(),
};
const never = events.never.event;

/** The findings that the editor shows. */
export const shown = new Map<string, readonly Diagnostic[]>();
/** All messages that popped up. */
export const messages: string[] = [];
/** Lines of the output. */
export const log: string[] = [];

export function open(path: string, content: string): Document {
  const document = new Document(Uri.file(path), content);
  workspace.textDocuments.push(document);
  window.visibleTextEditors.push({ document });
  window.tabGroups.all[0]!.tabs.push({ input: new TabInputText(document.uri) });
  window.activeTextEditor = { document };
  events.opened.fire(document);
  return document;
}

const collection = {
  set: (uri: Uri, items: readonly Diagnostic[] = []) => void shown.set(uri.toString(), items),
  delete: (uri: Uri) => void shown.delete(uri.toString()),
  clear: () => shown.clear(),
  dispose: () => shown.clear(),
};
const say = (message: string): Promise<undefined> => {
  messages.push(message);
  return Promise.resolve(undefined);
};
const write = (line: unknown): void => void log.push(String(line));

export const output = {
  name: 'test',
  logLevel: LogLevel.Info,
  onDidChangeLogLevel: never,
  append: write,
  appendLine: write,
  trace: write,
  debug: write,
  info: write,
  warn: write,
  error: write,
  show: () => undefined,
  hide: () => undefined,
  clear: () => undefined,
  replace: write,
  dispose: () => undefined,
};

export const workspace = {
  textDocuments: [] as Document[],
  notebookDocuments: [],
  workspaceFolders: undefined,
  onDidChangeTextDocument: events.changed.event,
  onDidOpenTextDocument: events.opened.event,
  getConfiguration: () => ({ get: (_: string, other?: unknown) => other, has: () => false }),
  onDidCloseTextDocument: never,
  onDidSaveTextDocument: never,
  onWillSaveTextDocument: never,
  onDidChangeConfiguration: never,
  onDidChangeWorkspaceFolders: never,
  onDidChangeNotebookDocument: never,
  onDidOpenNotebookDocument: never,
  onDidCloseNotebookDocument: never,
};
export const window = {
  activeTextEditor: undefined as { readonly document: Document } | undefined,
  visibleTextEditors: [] as { readonly document: Document }[],
  tabGroups: { all: [{ tabs: [] as { readonly input: unknown }[] }], onDidChangeTabs: never },
  onDidChangeActiveTextEditor: never,
  onDidChangeVisibleTextEditors: never,
  createOutputChannel: () => output,
  showErrorMessage: say,
  showWarningMessage: say,
  showInformationMessage: say,
};
/** What a server registers is kept by nobody: the test asks for findings alone. */
export const languages = new Proxy({ match: () => 10, createDiagnosticCollection: () => collection } as Record<string, unknown>, {
  get: (known, name: string) => known[name] ?? (() => new Disposable()),
});
export const commands = { registerCommand: () => new Disposable() };
