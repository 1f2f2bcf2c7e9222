/** The take that the page plays. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { PlayedTake, TakeAsk } from './messages';
import { askServer, reopened } from './question';
import type { Reads } from './state';

/** What plays may be of another phrase, or of another file, than what is shown. Null where it cannot be made; the output says why. */
export async function takeOf(
  state: Reads<'options'>,
  { uri, name, start, stretch, tempo, ratio, countIn, practice }: TakeAsk,
  client: LanguageClient,
  output: vscode.LogOutputChannel,
): Promise<PlayedTake | null> {
  if (!client.isRunning()) return null;
  try {
    const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri) ?? (await reopened(vscode.Uri.parse(uri)));
    return await askServer<PlayedTake>(
      client,
      'phrasewright/take',
      { document, position: document.positionAt(start) },
      { options: { stretch, tempo, ratio, countIn, practice, pitch: state.options.pitch }, name },
    );
  } catch (error) {
    output.error(`The sound could not be made: ${error instanceof Error ? error.message : String(error)}`);
    return null;
  }
}
