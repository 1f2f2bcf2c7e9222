/** A place in a phrase document: the cursor's, or one that a code lens names. */
import * as vscode from 'vscode';

export interface TextPlace {
  readonly document: vscode.TextDocument;
  readonly position: vscode.Position;
}

/** The cursor of the active editor, if that shows phrases. */
export function cursorPlace(): TextPlace | undefined {
  const editor = vscode.window.activeTextEditor;
  return editor?.document.languageId === 'phrase' ? { document: editor.document, position: editor.selection.active } : undefined;
}

/**
 * The place a code lens names (a document's address, and a line and character from 0), or the cursor's in the file that a menu names, which
 * is opened where it is not shown. The palette and keys name none.
 */
export async function textPlace([uri, position]: readonly unknown[]): Promise<TextPlace | undefined> {
  if (uri instanceof vscode.Uri) return placeIn(uri);
  const place = position as { line?: unknown; character?: unknown } | null | undefined;
  if (typeof uri !== 'string' || typeof place?.line !== 'number' || typeof place.character !== 'number') return undefined;
  const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  return { document, position: new vscode.Position(place.line, place.character) };
}

async function placeIn(uri: vscode.Uri): Promise<TextPlace> {
  const editors = [vscode.window.activeTextEditor, ...vscode.window.visibleTextEditors];
  const { document, selection } =
    editors.find((editor) => editor?.document.uri.toString() === uri.toString()) ?? (await vscode.window.showTextDocument(uri));
  return { document, position: selection.active };
}
