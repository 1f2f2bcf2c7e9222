/** The list behind “More …”: every form of every action at a place, under headings; the score shows the one the list stands on. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { FormEdits, ListedForm, ListedForms } from '../../server/src/protocol/convert';
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
    const params = {
      textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
      range: client.code2ProtocolConverter.asRange(range),
    };
    const answer = await client.sendRequest<ListedForms | null>('phrasewright/actions', params);
    if (answer === null || answer.forms.length === 0) {
      void showInformation('Nothing can be done here. Put the cursor on a note, a chord, or the name of a phrase.');
      return;
    }
    await choose(
      client,
      score,
      place,
      answer,
      editsAsked((form, token) =>
        client.sendRequest<FormEdits | null>(
          'phrasewright/edits',
          { ...params, version: answer.version, kind: form.kind, name: form.name },
          token,
        ),
      ),
    );
  });
}

/** The edits of a form; null where the text has moved on. */
type Edits = (form: ListedForm, token: vscode.CancellationToken) => Promise<FormEdits | null>;

/** Asks once for a form, however often the list stands on it; what was cancelled or not answered is asked for again. */
function editsAsked(ask: Edits): Edits {
  const asked = new Map<ListedForm, Promise<FormEdits | null>>();
  return (form, token) => {
    const known = asked.get(form);
    if (known !== undefined) return known;
    const fresh = ask(form, token);
    const forget = (): void => void asked.delete(form);
    const listening = token.onCancellationRequested(forget);
    asked.set(form, fresh);
    fresh.then(() => listening.dispose(), forget);
    return fresh;
  };
}

interface Place {
  readonly document: vscode.TextDocument;
  readonly range: vscode.Range;
}

/** What a menu names, a document's address and a range as the protocol has it; else the selection. */
async function placeOf(client: LanguageClient, [uri, range]: readonly unknown[]): Promise<Place | undefined> {
  if (typeof uri === 'string') {
    const document = await vscode.workspace.openTextDocument(client.protocol2CodeConverter.asUri(uri));
    return {
      document,
      range: client.protocol2CodeConverter.asRange(range as Parameters<LanguageClient['protocol2CodeConverter']['asRange']>[0])!,
    };
  }
  const editor = vscode.window.activeTextEditor;
  return editor?.document.languageId === 'phrase' ? { document: editor.document, range: editor.selection } : undefined;
}

/** Opens the list, and takes the form that is accepted; a list that is left changes nothing. */
async function choose(
  client: LanguageClient,
  score: ScoreView,
  { document, range }: Place,
  { version, forms }: ListedForms,
  editsOf: Edits,
): Promise<void> {
  const list = vscode.window.createQuickPick<Item>();
  list.title = 'More Ways to Change It';
  list.placeholder = score.isOpen()
    ? 'The score shows the one you stand on. Enter takes it, Escape none.'
    : 'Enter takes one, Escape none. The score, if open, shows each first.';
  list.matchOnDescription = true;
  list.items = itemsOf(forms);
  // The list stands on a form as soon as it opens, which is not always told.
  list.activeItems = list.items.filter(({ form }) => form !== undefined).slice(0, 1);
  let asking = new vscode.CancellationTokenSource();
  const show = async (form: ListedForm | undefined): Promise<void> => {
    // The list stands on another: nobody waits for the one before.
    asking.cancel();
    const { token } = (asking = new vscode.CancellationTokenSource());
    // The closed score shows no form: its edits are asked for when it is taken.
    const made = form === undefined || !score.isOpen() ? null : await editsOf(form, token).catch(() => null);
    if (!token.isCancellationRequested)
      await score.showInstead(
        form === undefined || made === null ? null : { document, version, position: range.start, edits: made.edits, title: form.title },
      );
  };
  list.onDidChangeActive(([item]) => void show(item?.form));
  const form = await new Promise<ListedForm | undefined>((resolve) => {
    list.onDidAccept(() => {
      resolve(list.activeItems[0]?.form);
      list.hide();
    });
    list.onDidHide(() => resolve(undefined));
    list.show();
    void show(list.activeItems[0]?.form);
  });
  list.dispose();
  try {
    const made = form === undefined ? null : await editsOf(form, asking.token);
    // The edits are for the text as it was when the list opened.
    if (made !== null && document.version === version) {
      const edit = new vscode.WorkspaceEdit();
      edit.set(document.uri, await client.protocol2CodeConverter.asTextEdits([...made.edits]));
      await vscode.workspace.applyEdit(edit);
    }
  } finally {
    void show(undefined);
  }
}

/** A heading before each group; the server sends the forms of a group together. */
function itemsOf(forms: readonly ListedForm[]): Item[] {
  return forms.flatMap((form, i): Item[] => {
    const item: Item = { label: form.title, description: form.detail, form };
    return forms[i - 1]?.group === form.group ? [item] : [{ label: form.group, kind: vscode.QuickPickItemKind.Separator }, item];
  });
}
