/** The status item: is the server running, and what it finds in the lesson being written. */
import * as vscode from 'vscode';
import { State, type LanguageClient } from 'vscode-languageclient/node';

export function showStatus(client: LanguageClient): vscode.Disposable[] {
  const item = vscode.window.createStatusBarItem('phrasewright.status', vscode.StatusBarAlignment.Right, 100);
  item.name = 'Phrasewright';
  let state: State = State.Starting;
  const update = (): void => {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== 'phrase') {
      item.hide();
      return;
    }
    const { text, tooltip, command } = describe(state, document.uri);
    item.text = text;
    item.tooltip = tooltip;
    item.command = command;
    item.show();
  };
  update();
  return [
    item,
    client.onDidChangeState(({ newState }) => {
      state = newState;
      update();
    }),
    vscode.window.onDidChangeActiveTextEditor(update),
    vscode.languages.onDidChangeDiagnostics(update),
  ];
}

function describe(state: State, uri: vscode.Uri): { text: string; tooltip: string; command: string } {
  if (state === State.Starting)
    return { text: '$(sync~spin) Phrasewright', tooltip: 'The language server is starting.', command: 'phrasewright.showOutput' };
  if (state !== State.Running)
    return {
      text: '$(error) Phrasewright',
      tooltip: 'The language server has stopped. Click to start it again.',
      command: 'phrasewright.restartServer',
    };
  const severe = vscode.languages.getDiagnostics(uri).filter(({ severity }) => severity <= vscode.DiagnosticSeverity.Warning).length;
  const text = severe === 0 ? '$(check) Phrasewright' : `$(warning) Phrasewright: ${severe}`;
  const tooltip =
    severe === 0
      ? 'Nothing clashes in this lesson.'
      : `${severe} ${severe === 1 ? 'finding' : 'findings'} in this lesson. Click to list them.`;
  return { text, tooltip, command: 'workbench.actions.view.problems' };
}
