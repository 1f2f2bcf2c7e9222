/** The first steps: a lesson begun in an empty file, and the offer to begin it. */
import * as vscode from 'vscode';
import { LESSON } from './lesson-template';

/** Menus offer to begin a lesson while the text is empty. */
const IS_EMPTY = 'phrasewright.isEmpty';

export function registerBeginning(): vscode.Disposable[] {
  const update = (): void => {
    const document = vscode.window.activeTextEditor?.document;
    void vscode.commands.executeCommand('setContext', IS_EMPTY, document?.languageId === 'phrase' && isEmpty(document));
  };
  update();
  return [
    vscode.commands.registerCommand('phrasewright.newLesson', newLesson),
    vscode.languages.registerCodeLensProvider({ language: 'phrase' }, { provideCodeLenses: offers }),
    vscode.window.onDidChangeActiveTextEditor(update),
    vscode.workspace.onDidChangeTextDocument(update),
  ];
}

/** In the empty file that is being written; else in a new one, so that nothing is written into a lesson that is there. */
async function newLesson(): Promise<void> {
  const editor = vscode.window.visibleTextEditors.filter(({ document }) => document.languageId === 'phrase' && isEmpty(document));
  const here = editor.find((one) => one === vscode.window.activeTextEditor) ?? editor[0];
  if (here === undefined)
    return write(await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ language: 'phrase' })));
  const { document, viewColumn } = here;
  await write(await vscode.window.showTextDocument(document, viewColumn));
}

async function write(editor: vscode.TextEditor): Promise<void> {
  const { document } = editor;
  const all = new vscode.Range(document.positionAt(0), document.positionAt(document.getText().length));
  await editor.insertSnippet(new vscode.SnippetString(LESSON), all);
}

function offers(document: vscode.TextDocument): vscode.CodeLens[] {
  if (!isEmpty(document)) return [];
  return [new vscode.CodeLens(new vscode.Range(0, 0, 0, 0), { title: 'Begin a lesson', command: 'phrasewright.newLesson' })];
}

function isEmpty(document: vscode.TextDocument): boolean {
  // A long text is not read for this at every keystroke.
  return document.lineCount < 50 && document.getText().trim() === '';
}
