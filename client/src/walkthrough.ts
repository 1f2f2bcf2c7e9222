/** The walk-through of the phrase at the cursor, as a read-only document that follows the cursor and the edits: for who wants to copy of it or to search it. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { cursorPlace, textPlace } from './text-place';

const SCHEME = 'phrasewright-walkthrough';
/** The tab has the last of it as its name, by which the editor knows the language. */
const ADDRESS = vscode.Uri.from({ scheme: SCHEME, path: 'Walk-through of the Phrase' });

/** The view of the score, as its tab names it. */
const SCORE = 'phrasewright.score';

/** Waits for a pause in typing, so that the text beside does not flicker. */
const PAUSE = 150; // milliseconds

export function registerWalkthrough(client: LanguageClient): vscode.Disposable[] {
  const changed = new vscode.EventEmitter<vscode.Uri>();
  let told = 'Put the cursor into a phrase.';
  let timer: NodeJS.Timeout | undefined;

  const refresh = async (place = cursorPlace()): Promise<void> => {
    if (place === undefined || !client.isRunning()) return;
    const position = client.code2ProtocolConverter.asPosition(place.position);
    const answer = await client.sendRequest<string | null>('phrasewright/explain', {
      textDocument: { uri: client.code2ProtocolConverter.asUri(place.document.uri) },
      position,
    });
    if (answer === null || answer === told) return;
    told = answer;
    changed.fire(ADDRESS);
  };
  const soon = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void refresh(), PAUSE);
  };

  return [
    changed,
    vscode.workspace.registerTextDocumentContentProvider(SCHEME, { onDidChange: changed.event, provideTextDocumentContent: () => told }),
    vscode.commands.registerCommand('phrasewright.openWalkthroughText', async (...place: unknown[]) => {
      await refresh(await textPlace(place));
      const document = await vscode.workspace.openTextDocument(ADDRESS);
      await vscode.window.showTextDocument(document, { viewColumn: columnBeside(), preserveFocus: true, preview: false });
    }),
    vscode.window.onDidChangeTextEditorSelection(soon),
    vscode.window.onDidChangeActiveTextEditor(soon),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId === 'phrase') soon();
    }),
  ];
}

/** Where the score is, else beside the text: two columns are enough. */
function columnBeside(): vscode.ViewColumn {
  const { all, activeTabGroup } = vscode.window.tabGroups;
  const other = all.find(
    (group) =>
      group !== activeTabGroup && group.tabs.some(({ input }) => input instanceof vscode.TabInputWebview && input.viewType.endsWith(SCORE)),
  );
  return other?.viewColumn ?? vscode.ViewColumn.Beside;
}
