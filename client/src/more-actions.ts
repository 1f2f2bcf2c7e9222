/** The list behind “More …”: every form of every action at a place, under headings; the score shows the one the list stands on. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { ListedForm, ListedForms } from '../../server/src/protocol/convert';
import { showInformation } from './notice';
import type { ScoreView } from './score/panel';

interface Item extends vscode.QuickPickItem {
  readonly form?: ListedForm;
}

export function registerMoreActions(client: LanguageClient, score: ScoreView): vscode.Disposable {
  return vscode.commands.registerCommand('phrasewright.moreActions', async (...named: unknown[]) => {
    const place = await placeOf(client, named);
    if (place === undefined || !client.isRunning()) return;
    const { document, range } = place;
    const params = { textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) }, range: client.code2ProtocolConverter.asRange(range) };
    const answer = await client.sendRequest<ListedForms | null>('phrasewright/actions', params);
    if (answer === null || answer.forms.length === 0) {
      void showInformation('Nothing can be done here. Put the cursor on a note, a chord, or the name of a phrase.');
      return;
    }
    await choose(client, score, place, answer);
  });
}

interface Place {
  readonly document: vscode.TextDocument;
  readonly range: vscode.Range;
}

/** What a menu names, a document's address and a range as the protocol has it; else the selection. */
async function placeOf(client: LanguageClient, [uri, range]: readonly unknown[]): Promise<Place | undefined> {
  if (typeof uri === 'string') {
    const document = await vscode.workspace.openTextDocument(client.protocol2CodeConverter.asUri(uri));
    return { document, range: client.protocol2CodeConverter.asRange(range as Parameters<LanguageClient['protocol2CodeConverter']['asRange']>[0])! };
  }
  const editor = vscode.window.activeTextEditor;
  return editor?.document.languageId === 'phrase' ? { document: editor.document, range: editor.selection } : undefined;
}

/** Opens the list, and takes the form that is accepted; a list that is left changes nothing. */
async function choose(client: LanguageClient, score: ScoreView, { document, range }: Place, { version, forms }: ListedForms): Promise<void> {
  const list = vscode.window.createQuickPick<Item>();
  list.title = 'More Ways to Change It';
  list.placeholder = score.isOpen() ? 'The score shows the one you stand on. Enter takes it, Escape leaves all as it is.' : 'Enter takes one, Escape leaves all as it is. With the score open you see each before you take it.';
  list.matchOnDescription = true;
  list.items = itemsOf(forms);
  // The list stands on a form as soon as it opens, which is not always told.
  list.activeItems = list.items.filter(({ form }) => form !== undefined).slice(0, 1);
  const show = (form: ListedForm | undefined): void =>
    void score.showInstead(form === undefined ? null : { document, version, position: range.start, edits: form.edits, title: form.title });
  list.onDidChangeActive(([item]) => show(item?.form));
  const form = await new Promise<ListedForm | undefined>((resolve) => {
    list.onDidAccept(() => {
      resolve(list.activeItems[0]?.form);
      list.hide();
    });
    list.onDidHide(() => resolve(undefined));
    list.show();
    show(list.activeItems[0]?.form);
  });
  list.dispose();
  // The edits are for the text as it was when the list opened.
  if (form !== undefined && document.version === version) {
    const edit = new vscode.WorkspaceEdit();
    edit.set(document.uri, await client.protocol2CodeConverter.asTextEdits([...form.edits]));
    await vscode.workspace.applyEdit(edit);
  }
  show(undefined);
}

/** A heading before each group; the server sends the forms of a group together. */
function itemsOf(forms: readonly ListedForm[]): Item[] {
  return forms.flatMap((form, i): Item[] => {
    const item: Item = { label: form.title, description: form.detail, form };
    return forms[i - 1]?.group === form.group ? [item] : [{ label: form.group, kind: vscode.QuickPickItemKind.Separator }, item];
  });
}
