/** What the score asks the server of a place in a text, and how it gets a text that was closed. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { TextPlace } from '../text-place';

/** `more`: the parameters beside the document and the position. */
export function askServer<Answer>(
  client: LanguageClient,
  method: 'phrasewright/score' | 'phrasewright/take',
  { document, position }: TextPlace,
  more: object,
): Promise<Answer | null> {
  const convert = client.code2ProtocolConverter;
  return client.sendRequest<Answer | null>(method, {
    textDocument: { uri: convert.asUri(document.uri) },
    position: convert.asPosition(position),
    ...more,
  });
}

/** A text that was closed, from where it is kept. Throws where it is kept nowhere. */
export async function reopened(uri: vscode.Uri): Promise<vscode.TextDocument> {
  // One that was never saved would come back empty.
  if (uri.scheme === 'untitled') throw new Error(`“${uri.path}” was closed without being saved.`);
  return vscode.workspace.openTextDocument(uri);
}
