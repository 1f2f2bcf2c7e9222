/** Where the text of the score is shown, or is to be. */
import * as vscode from 'vscode';

/** The editor that shows a document: of several the one that has the focus, else the one in the column that was last written in. */
export function editorOf(document: vscode.TextDocument, column: vscode.ViewColumn | undefined): vscode.TextEditor | undefined {
  const editors = vscode.window.visibleTextEditors.filter((editor) => editor.document === document);
  return (
    editors.find((editor) => editor === vscode.window.activeTextEditor) ??
    editors.find((editor) => editor.viewColumn === column) ??
    editors[0]
  );
}

/** The column for a document that no editor shows: the one that has its tab, else the first that is not the score's, else a new one. */
export function columnOf(document: vscode.TextDocument, score: vscode.ViewColumn | undefined): vscode.ViewColumn {
  const { all } = vscode.window.tabGroups;
  const uri = document.uri.toString();
  const withTab = all.find(({ tabs }) => tabs.some(({ input }) => input instanceof vscode.TabInputText && input.uri.toString() === uri));
  return (withTab ?? all.find(({ viewColumn }) => viewColumn !== score))?.viewColumn ?? vscode.ViewColumn.Beside;
}
