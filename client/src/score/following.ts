/** The score follows the text: its cursor, its edits, its name, its settings, and the server that reads it. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { CalmFindings } from '../calm/findings';
import { cursorMessage, phraseAtCursor } from './cursor';
import type { ToView } from './messages';
import { follow, type ViewState } from './state';

export interface FollowingParts {
  readonly client: LanguageClient;
  readonly calm: Pick<CalmFindings, 'onDidRelease'>;
  isOpen(): boolean;
  post(message: ToView): void;
  refresh(): Promise<void>;
}

export function followText(
  state: Pick<ViewState, 'followed' | 'column' | 'shown'>,
  { client, calm, isOpen, post, refresh }: FollowingParts,
): vscode.Disposable[] {
  const refreshIf = (document: vscode.TextDocument): void => {
    if (document === state.followed?.document) void refresh();
  };

  const moveTo = (editor: vscode.TextEditor): void => {
    if (editor.document.languageId !== 'phrase') return;
    follow(state, editor);
    if (!isOpen()) return;
    // In a phrase that is shown, the page needs no other score.
    if (phraseAtCursor(state) === null) return void refresh();
    const cursor = cursorMessage(state);
    if (cursor !== null) post(cursor);
  };

  follow(state, vscode.window.activeTextEditor);
  return [
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => moveTo(textEditor)),
    vscode.window.onDidChangeActiveTextEditor((editor) => editor !== undefined && moveTo(editor)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => refreshIf(document)),
    // What plays goes on under the new name.
    vscode.workspace.onDidRenameFiles(({ files }) =>
      post({ type: 'renamed', files: files.map(({ oldUri, newUri }) => ({ from: oldUri.toString(), to: newUri.toString() })) }),
    ),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('phrasewright')) void refresh();
    }),
    calm.onDidRelease(refreshIf),
    client.onDidChangeState(() => {
      // Another server counts its revisions anew.
      state.shown = undefined;
      void refresh();
    }),
  ];
}
