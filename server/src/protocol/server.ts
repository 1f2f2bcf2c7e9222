/** The language server: one small handler a request, each a call of a feature on the snapshot of the document's version. */
import {
  CodeActionKind, DidChangeConfigurationNotification, DocumentDiagnosticReportKind, ErrorCodes, ResponseError, TextDocuments,
  TextDocumentSyncKind, type Connection, type DocumentDiagnosticReport, type InitializeParams, type InitializeResult,
  type TextDocumentPositionParams,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { formatEdits } from '../../../grammar/printer';
import { actionsAt } from '../features/code-actions';
import { walkthroughMarkdown } from '../explain/walkthrough';
import { folds } from '../features/folding';
import { hoverAt } from '../features/hover/index';
import { escapeMarkdown } from '../features/hover/words';
import { inlayHints } from '../features/inlay-hints';
import { DEFAULT_SETTINGS, readSettings, type Settings } from '../features/options';
import { phraseAt } from '../features/place';
import { documentSymbols } from '../features/symbols';
import { readPhrase } from '../analysis/read';
import { openSnapshot, type Snapshot } from '../model/snapshot';
import { findingsOf } from '../rules/findings';
import { VERSION } from '../version';
import { toCodeAction, toDiagnostic, toEdit, toFold, toHover, toInlayHint, toSymbol } from './convert';

/** The walk-through of the phrase at a position, as Markdown; null between phrases. A request of our own. */
const EXPLAIN = 'phrasewright/explain';

interface Client {
  readonly pulls: boolean;
  readonly asksSettings: boolean;
  readonly refreshesHints: boolean;
  readonly refreshesDiagnostics: boolean;
  readonly manual: string;
}

/** Answers a client over a connection until it ends. `manual` is where the rules are explained, unless the client says. */
export function startServer(connection: Connection, manual: string): void {
  const documents = new TextDocuments(TextDocument);
  const snapshots = new Map<string, Snapshot>();
  let settings: Settings = DEFAULT_SETTINGS;
  // Counts changes of settings, so that an unchanged document is told anew when they change.
  let settingsVersion = 0;
  let client: Client = { pulls: false, asksSettings: false, refreshesHints: false, refreshesDiagnostics: false, manual };

  const snapshotOf = (document: TextDocument): Snapshot => {
    const known = snapshots.get(document.uri);
    if (known?.version === document.version) return known;
    const fresh = openSnapshot(document.uri, document.version, document.getText(), known);
    snapshots.set(document.uri, fresh);
    return fresh;
  };
  const documentOf = (uri: string): TextDocument => {
    const document = documents.get(uri);
    if (document === undefined) throw new ResponseError(ErrorCodes.InvalidParams, `The document ${uri} is not open.`);
    return document;
  };
  const complain = (error: unknown): void => connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
  const diagnosticsOf = (document: TextDocument) =>
    findingsOf(snapshotOf(document), settings.theory).map((finding) => toDiagnostic(document, finding, client.manual));
  const push = (document: TextDocument): void => {
    if (client.pulls) return;
    try {
      void connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: diagnosticsOf(document) });
    } catch (error) {
      complain(error);
    }
  };

  const changeSettings = (raw: unknown): void => {
    settings = readSettings(raw);
    settingsVersion += 1;
    if (client.refreshesHints) void connection.languages.inlayHint.refresh();
    if (client.pulls && client.refreshesDiagnostics) connection.languages.diagnostics.refresh();
    documents.all().forEach(push);
  };
  const askSettings = async (): Promise<void> => changeSettings(await connection.workspace.getConfiguration('phrasewright'));

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    client = readClient(params, manual);
    return { capabilities: capabilities(), serverInfo: { name: 'phrasewright', version: VERSION } };
  });
  connection.onInitialized(async () => {
    if (!client.asksSettings) return;
    await connection.client.register(DidChangeConfigurationNotification.type, { section: 'phrasewright' });
    await askSettings();
  });
  connection.onDidChangeConfiguration(({ settings: sent }) => {
    if (client.asksSettings) askSettings().catch(complain);
    else changeSettings((sent as { phrasewright?: unknown } | null)?.phrasewright);
  });

  documents.onDidChangeContent(({ document }) => push(document));
  documents.onDidClose(({ document }) => {
    snapshots.delete(document.uri);
    if (!client.pulls) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
  });

  connection.languages.diagnostics.on(({ textDocument, previousResultId }): DocumentDiagnosticReport => {
    const document = documentOf(textDocument.uri);
    const resultId = `${document.version}.${settingsVersion}`;
    if (previousResultId === resultId) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
    return { kind: DocumentDiagnosticReportKind.Full, resultId, items: diagnosticsOf(document) };
  });
  connection.onHover(({ textDocument, position }) => {
    const document = documentOf(textDocument.uri);
    const hover = hoverAt(snapshotOf(document), document.offsetAt(position), settings.theory);
    return hover === null ? null : toHover(document, hover);
  });
  connection.languages.inlayHint.on(({ textDocument, range }) => {
    const document = documentOf(textDocument.uri);
    const hints = inlayHints(snapshotOf(document), document.offsetAt(range.start), document.offsetAt(range.end), settings);
    return hints.map((hint) => toInlayHint(document, hint));
  });
  connection.onDocumentSymbol(({ textDocument }) => {
    const document = documentOf(textDocument.uri);
    return documentSymbols(snapshotOf(document)).map((symbol) => toSymbol(document, symbol));
  });
  connection.onFoldingRanges(({ textDocument }) => {
    const document = documentOf(textDocument.uri);
    return folds(snapshotOf(document)).map((fold) => toFold(document, fold)).filter((fold) => fold.endLine > fold.startLine);
  });
  connection.onDocumentFormatting(({ textDocument }) => {
    const document = documentOf(textDocument.uri);
    return formatted(document);
  });
  connection.onDocumentRangeFormatting(({ textDocument, range }) => {
    const document = documentOf(textDocument.uri);
    return formatted(document).filter((edit) => edit.range.end.line >= range.start.line && edit.range.start.line <= range.end.line);
  });
  connection.onCodeAction(({ textDocument, range, context }) => {
    const document = documentOf(textDocument.uri);
    const actions = actionsAt(snapshotOf(document), document.offsetAt(range.start), document.offsetAt(range.end), settings, complain);
    return actions
      .filter(({ kind }) => context.only === undefined || context.only.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`)))
      .map((action) => toCodeAction(document, action, client.manual));
  });

  connection.onRequest(EXPLAIN, ({ textDocument, position }: TextDocumentPositionParams): string | null => {
    const document = documentOf(textDocument.uri);
    const placed = phraseAt(snapshotOf(document), document.offsetAt(position));
    return placed === null ? null : walkthroughMarkdown(readPhrase(placed.phrase, settings.theory), escapeMarkdown);
  });

  const formatted = (document: TextDocument) => {
    const snapshot = snapshotOf(document);
    return formatEdits(snapshot.text, snapshot.slices).map(({ range, text }) => toEdit(document, { ...range, text }));
  };

  documents.listen(connection);
  connection.listen();
}

function readClient({ capabilities: { textDocument, workspace }, initializationOptions }: InitializeParams, manual: string): Client {
  const options = initializationOptions as { manual?: unknown } | undefined;
  return {
    pulls: textDocument?.diagnostic !== undefined,
    asksSettings: workspace?.configuration === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesDiagnostics: workspace?.diagnostics?.refreshSupport === true,
    manual: typeof options?.manual === 'string' ? options.manual : manual,
  };
}

function capabilities(): InitializeResult['capabilities'] {
  return {
    textDocumentSync: TextDocumentSyncKind.Incremental,
    diagnosticProvider: { interFileDependencies: false, workspaceDiagnostics: false },
    hoverProvider: true,
    inlayHintProvider: true,
    documentSymbolProvider: true,
    foldingRangeProvider: true,
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite] },
  };
}
