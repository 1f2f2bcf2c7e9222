/** The language server of one connection: its capabilities, and a handler for each. */
import { CodeActionKind, TextDocumentSyncKind, type Connection, type InitializeResult } from 'vscode-languageserver';
import { onFault } from '../model/faults';
import { VERSION } from '../version';
import { readClient } from './client';
import { handleCodeActions } from './handlers/code-actions';
import { handleCodeLenses } from './handlers/code-lenses';
import { handleCompletion } from './handlers/completion';
import { handleDiagnostics } from './handlers/diagnostics';
import { handleFolding } from './handlers/folding';
import { handleFormatting } from './handlers/formatting';
import { handleHover } from './handlers/hover';
import { handleInlayHints } from './handlers/inlay-hints';
import { handleNavigation } from './handlers/navigation';
import { handleRename } from './handlers/rename';
import { handleScore } from './handlers/score';
import { handleSettings } from './handlers/settings';
import { handleSymbols } from './handlers/symbols';
import { handleWalkthrough } from './handlers/walkthrough';
import { handleWriting } from './handlers/writing';
import { openSession, type Session } from './session';

/** Answered at once, whatever else there is to do. A request of our own. */
const ALIVE = 'phrasewright/alive';

const HANDLERS: readonly ((session: Session) => void)[] = [
  handleSettings,
  handleDiagnostics,
  handleHover,
  handleInlayHints,
  handleSymbols,
  handleFolding,
  handleFormatting,
  handleCodeActions,
  handleCompletion,
  handleNavigation,
  handleRename,
  handleWalkthrough,
  handleScore,
  handleCodeLenses,
  handleWriting,
];

/** Answers a client over a connection until it ends. `manual` is where the rules are explained, unless the client says. */
export function startServer(connection: Connection, manual: string): void {
  const session = openSession(connection, readClient({ capabilities: {} }, manual));
  connection.onInitialize((params): InitializeResult => {
    session.client = readClient(params, manual);
    return { capabilities: capabilities(), serverInfo: { name: 'phrasewright', version: VERSION } };
  });
  // Past the queue: it tells a server that is busy from one that hangs.
  connection.onRequest(ALIVE, () => null);
  onFault(session.complain);
  for (const handle of HANDLERS) handle(session);
  session.documents.onDidChangeContent(() => session.queue.stir());
  session.documents.listen(connection);
  connection.listen();
}

function capabilities(): InitializeResult['capabilities'] {
  return {
    textDocumentSync: TextDocumentSyncKind.Incremental,
    diagnosticProvider: { interFileDependencies: false, workspaceDiagnostics: false },
    hoverProvider: true,
    inlayHintProvider: true,
    codeLensProvider: { resolveProvider: true },
    documentSymbolProvider: true,
    foldingRangeProvider: true,
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    codeActionProvider: {
      codeActionKinds: [
        CodeActionKind.QuickFix,
        CodeActionKind.RefactorRewrite,
        CodeActionKind.RefactorExtract,
        CodeActionKind.RefactorInline,
        `${CodeActionKind.SourceFixAll}.phrasewright`,
      ],
      resolveProvider: true,
    },
    // A colon asks for the scales of the chord before it, a blank for what a row may say (`opensAtBlank`); other completions come with the letters of a word. A word of digits alone, as in
    // the place of a claim, brings none in some editors: an open list would stay as it was, and Tab would write another place.
    completionProvider: { triggerCharacters: [':', ' ', ...'0123456789'] },
    definitionProvider: true,
    referencesProvider: true,
    documentHighlightProvider: true,
    renameProvider: { prepareProvider: true },
  };
}
