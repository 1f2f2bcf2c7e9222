/** What the editor tells of the documents that are watched: edits, cursors, and what ends the writing. */
import * as vscode from 'vscode';
import { REST } from './calm';
import { offsetsOf, type Taking } from './taking';
import { forget, watchedOf, type WatchedDocuments } from './watched';

export function followEditor(all: WatchedDocuments, { take, releasing }: Taking): vscode.Disposable[] {
  const pause = (document: vscode.TextDocument | undefined): void => {
    if (document !== undefined && watchedOf(all, document) !== undefined) releasing(document, { kind: 'pause' });
  };
  return [
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      const one = watchedOf(all, document);
      if (one === undefined) return;
      one.version = document.version;
      // Places of the text before the change, from the last to the first.
      const changes = contentChanges
        .map(({ rangeOffset, rangeLength, text }) => ({ start: rangeOffset, end: rangeOffset + rangeLength, text }))
        .sort((a, b) => b.start - a.start);
      if (changes.length > 0) take(document, { kind: 'edit', text: document.getText(), changes, rest: restIn(document) });
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor: { document }, selections }) => {
      if (watchedOf(all, document) !== undefined) releasing(document, { kind: 'cursors', offsets: offsetsOf(document, selections) });
    }),
    vscode.workspace.onDidCloseTextDocument((document) => forget(all, document)),
    ...onLeaving(pause),
    ...onSaving(pause),
  ];
}

/** Calls back with the text that the writer turns away from, to another one or to another window. */
function onLeaving(leave: (document: vscode.TextDocument | undefined) => void): vscode.Disposable[] {
  let active = vscode.window.activeTextEditor;
  return [
    vscode.window.onDidChangeActiveTextEditor((editor) => {
      if (active?.document !== editor?.document) leave(active?.document);
      active = editor;
    }),
    vscode.window.onDidChangeWindowState(({ focused }) => {
      if (!focused) leave(active?.document);
    }),
  ];
}

/** Calls back with a text that the writer saved. An editor that saves by itself after a while says nothing of the writer. */
function onSaving(saved: (document: vscode.TextDocument) => void): vscode.Disposable[] {
  const reasons = new WeakMap<vscode.TextDocument, vscode.TextDocumentSaveReason>();
  return [
    vscode.workspace.onWillSaveTextDocument(({ document, reason }) => void reasons.set(document, reason)),
    vscode.workspace.onDidSaveTextDocument((document) => {
      if (reasons.get(document) !== vscode.TextDocumentSaveReason.AfterDelay) saved(document);
    }),
  ];
}

function restIn(document: vscode.TextDocument): number {
  return vscode.workspace.getConfiguration('phrasewright', document).get<number>('findings.rest', REST);
}
