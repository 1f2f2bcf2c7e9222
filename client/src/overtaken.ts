/**
 * Files that another program, or another window, has changed since the editor read them. Before it saves over one the editor asks, but not where
 * the size is the same, and a note for another note is as long as before: then the other text is kept, and offered once it is replaced.
 */
import * as vscode from 'vscode';
import { baseName } from './base-name';
import { showWarning } from './notice';

/** Milliseconds: that a text is unsaved is told some time after the change that makes it so. */
const SETTLED = 100;

export function keepOvertaken(): vscode.Disposable[] {
  /** What each open file held when the editor last read or wrote it. */
  const known = new Map<string, string>();
  const overtaken = new Map<string, string>();
  const learn = (document: vscode.TextDocument): void => {
    if (isLesson(document) && !document.isDirty) known.set(keyOf(document), plain(document.getText()));
  };
  /** What stands on the disk, where it is neither what was read nor what is to be written, and the editor would not notice. */
  const otherText = async (document: vscode.TextDocument): Promise<string | null> => {
    const before = known.get(keyOf(document));
    if (before === undefined) return null;
    try {
      const there = plain(await vscode.workspace.decode(await vscode.workspace.fs.readFile(document.uri), { uri: document.uri }));
      return there === before || there === plain(document.getText()) || sizeOf(there) !== sizeOf(before) ? null : there;
    } catch {
      // It is gone, or cannot be read: the editor says so.
      return null;
    }
  };
  vscode.workspace.textDocuments.forEach(learn);
  return [
    vscode.workspace.onDidOpenTextDocument(learn),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      // Read anew, or taken back; while somebody writes nothing is waited for.
      if (isLesson(document) && !document.isDirty) setTimeout(() => learn(document), SETTLED);
    }),
    vscode.workspace.onDidCloseTextDocument((document) => {
      known.delete(keyOf(document));
      overtaken.delete(keyOf(document));
    }),
    vscode.workspace.onWillSaveTextDocument((event) => {
      const { document } = event;
      if (!isLesson(document)) return;
      event.waitUntil(
        otherText(document).then((other) => {
          if (other === null) overtaken.delete(keyOf(document));
          else overtaken.set(keyOf(document), other);
        }),
      );
    }),
    vscode.workspace.onDidSaveTextDocument((document) => {
      learn(document);
      const other = overtaken.get(keyOf(document));
      if (!overtaken.delete(keyOf(document)) || other === undefined) return;
      void offer(document, other);
    }),
  ];
}

async function offer({ uri }: vscode.TextDocument, other: string): Promise<void> {
  const answer = await showWarning(
    `Another program had changed “${baseName(uri)}” since it was read here. Your text is saved in its place; the other one is kept until this message is closed.`,
    'Open the Other Text',
  );
  if (answer === undefined) return;
  await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ language: 'phrase', content: other }), { preview: false });
}

function isLesson({ languageId, isUntitled }: vscode.TextDocument): boolean {
  return languageId === 'phrase' && !isUntitled;
}

const keyOf = ({ uri }: vscode.TextDocument): string => uri.toString();
/** Line ends are the editor's. */
const plain = (text: string): string => text.replace(/\r\n?/g, '\n');
const sizeOf = (text: string): number => new TextEncoder().encode(text).length;
