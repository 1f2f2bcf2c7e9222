/** The extension: starts the language server for `.phrase` files and shows how it is doing. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import { LanguageClient, TransportKind, type LanguageClientOptions, type ServerOptions } from 'vscode-languageclient/node';
import { registerBeginning } from './begin';
import { calmFindings, type CalmFindings } from './calm/findings';
import { registerCommands } from './commands';
import { registerMoreActions } from './more-actions';
import { registerChoices } from './pick-action';
import { createScoreView } from './score/panel';
import { registerScore } from './score/register';
import { showStatus } from './status';
import { registerWalkthrough } from './walkthrough';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const output = vscode.window.createOutputChannel('Phrasewright', { log: true });
  const calm = calmFindings((document) => client?.getFeature('textDocument/diagnostic').getProvider(document)?.onDidChangeDiagnosticsEmitter.fire());
  client = createClient(context, output, calm);
  const score = createScoreView(context, client, output, calm);
  context.subscriptions.push(
    output, calm, ...showStatus(client), ...registerCommands(client, output), ...registerChoices(), ...registerBeginning(), ...registerWalkthrough(client), score, ...registerScore(score), registerMoreActions(client, score),
  );
  await client.start();
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}

function createClient(context: vscode.ExtensionContext, output: vscode.LogOutputChannel, calm: CalmFindings): LanguageClient {
  const module = context.asAbsolutePath(join('dist', 'server.cjs'));
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6009'] } },
  };
  const options: LanguageClientOptions = {
    documentSelector: [{ language: 'phrase' }],
    outputChannel: output,
    middleware: { ...calm.middleware, provideInlayHints: async (document, range, token, next) => (await next(document, range, token))?.map(withRoom) },
    initializationOptions: { manual: manual(context).toString(), goesToPlaces: true, playsPhrases: true, listsActions: true },
  };
  return new LanguageClient('phrasewright', 'Phrasewright', server, options);
}

/**
 * While a line is edited the editor holds its hints to the length they had and puts an ellipsis for the last sign of each; of a degree
 * of one digit nothing would be left. A sign without width at its end is what goes instead.
 */
function withRoom(hint: vscode.InlayHint): vscode.InlayHint {
  if (typeof hint.label === 'string') hint.label += '\u200B';
  return hint;
}

/** The page that explains the rules. */
function manual(context: vscode.ExtensionContext): vscode.Uri {
  return vscode.Uri.joinPath(context.extensionUri, 'server', 'src', 'rules', 'RULES.md');
}
