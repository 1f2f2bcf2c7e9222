/** What the client can do, read once from its first message. */
import type { InitializeParams } from 'vscode-languageserver';

export interface Client {
  /** Asks for diagnostics itself; then none are pushed. */
  readonly pulls: boolean;
  /** Answers `workspace/configuration`. */
  readonly asksSettings: boolean;
  /** Lets the server register for changes of settings. */
  readonly tellsSettings: boolean;
  readonly refreshesHints: boolean;
  readonly refreshesLenses: boolean;
  readonly refreshesDiagnostics: boolean;
  /** Takes edits with the version they were made for, and refuses them for another. */
  readonly versionsEdits: boolean;
  /** Asks for the edits of a code action when it is chosen. */
  readonly resolvesEdits: boolean;
  /** Asks what a lens says when it shows it. */
  readonly resolvesLenses: boolean;
  /** Goes through the fields of a completion. */
  readonly fillsFields: boolean;
  /** Has the command that moves the cursor to a place. */
  readonly goesToPlaces: boolean;
  /** Has the command that lists all forms of the actions at a place, and shows each in the score. */
  readonly listsActions: boolean;
  /** Has the editor's command that opens the list of completions. */
  readonly opensLists: boolean;
  /** Has the commands that play a phrase, show its score, and open its walk-through. */
  readonly playsPhrases: boolean;
  /** The page that explains the rules. */
  readonly manual: string;
}

export function readClient(
  { capabilities: { textDocument, workspace }, initializationOptions }: Pick<InitializeParams, 'capabilities' | 'initializationOptions'>,
  manual: string,
): Client {
  const options = initializationOptions as
    | { manual?: unknown; goesToPlaces?: unknown; playsPhrases?: unknown; listsActions?: unknown; opensLists?: unknown }
    | null
    | undefined;
  return {
    pulls: textDocument?.diagnostic !== undefined,
    asksSettings: workspace?.configuration === true,
    tellsSettings: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    refreshesDiagnostics: workspace?.diagnostics?.refreshSupport === true,
    versionsEdits: workspace?.workspaceEdit?.documentChanges === true,
    resolvesEdits:
      textDocument?.codeAction?.resolveSupport?.properties.includes('edit') === true && textDocument.codeAction.dataSupport === true,
    resolvesLenses: textDocument?.codeLens?.resolveSupport?.properties.includes('command') === true,
    fillsFields: textDocument?.completion?.completionItem?.snippetSupport === true,
    goesToPlaces: options?.goesToPlaces === true,
    listsActions: options?.listsActions === true,
    opensLists: options?.opensLists === true,
    playsPhrases: options?.playsPhrases === true,
    manual: typeof options?.manual === 'string' ? options.manual : manual,
  };
}
