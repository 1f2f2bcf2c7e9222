/** The first steps: a lesson begun in an empty file, and the offer to begin it. */
import * as vscode from 'vscode';

/** Menus offer to begin a lesson while the text is empty. */
const IS_EMPTY = 'phrasewright.isEmpty';

/** A lesson that can be heard at once; the notes are selected at the end, to be written over. */
const LESSON = new vscode.SnippetString(`lesson "\${1:My lesson}"

phrase "\${2:First phrase}"
  key     C major
  tempo   120 swing
  over    | Dm7 G7 | Cmaj7 |
  line    | \${0:D4-F A-C5 B-G F-D | E ~ . .} |
`);

export function registerBeginning(): vscode.Disposable[] {
  const update = (): void => {
    const document = vscode.window.activeTextEditor?.document;
    void vscode.commands.executeCommand('setContext', IS_EMPTY, document?.languageId === 'phrase' && isEmpty(document));
  };
  update();
  return [
    vscode.commands.registerCommand('phrasewright.beginLesson', beginLesson),
    vscode.commands.registerCommand('phrasewright.newLesson', newLesson),
    vscode.languages.registerCodeLensProvider({ language: 'phrase' }, { provideCodeLenses: offers }),
    vscode.window.onDidChangeActiveTextEditor(update),
    vscode.workspace.onDidChangeTextDocument(update),
  ];
}

/** In the empty file that is being written; else in a new one, so that nothing is written into a lesson that is there. */
async function beginLesson(): Promise<void> {
  const editor = vscode.window.visibleTextEditors.filter(({ document }) => document.languageId === 'phrase' && isEmpty(document));
  const here = editor.find((one) => one === vscode.window.activeTextEditor) ?? editor[0];
  if (here === undefined) return newLesson();
  const { document, viewColumn } = here;
  await write(await vscode.window.showTextDocument(document, viewColumn));
}

async function newLesson(): Promise<void> {
  await write(await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ language: 'phrase' })));
}

async function write(editor: vscode.TextEditor): Promise<void> {
  const { document } = editor;
  const all = new vscode.Range(document.positionAt(0), document.positionAt(document.getText().length));
  await editor.insertSnippet(LESSON, all);
}

function offers(document: vscode.TextDocument): vscode.CodeLens[] {
  if (!isEmpty(document)) return [];
  return [new vscode.CodeLens(new vscode.Range(0, 0, 0, 0), { title: 'Begin a lesson', command: 'phrasewright.beginLesson' })];
}

function isEmpty(document: vscode.TextDocument): boolean {
  // A long text is not read for this at every keystroke.
  return document.lineCount < 50 && document.getText().trim() === '';
}
