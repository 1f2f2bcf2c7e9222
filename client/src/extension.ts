/** The extension: starts the language server for `.phrase` files and shows how it is doing. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import { LanguageClient, TransportKind, type LanguageClientOptions, type Middleware, type ServerOptions } from 'vscode-languageclient/node';
import { registerBeginning } from './begin';
import { calmFindings } from './calm/findings';
import { registerCommands } from './commands';
import { degreeHints } from './degrees';
import { registerHandouts } from './handout/register';
import { registerBringIn } from './import/register';
import { registerMoreActions } from './more-actions';
import { registerChoices } from './pick-action';
import { createScoreView } from './score/panel';
import { registerScore } from './score/register';
import { registerSound } from './sound/register';
import { showStatus } from './status';
import { registerWalkthrough } from './walkthrough';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const output = vscode.window.createOutputChannel('Phrasewright', { log: true });
  const calm = calmFindings((document) => client?.getFeature('textDocument/diagnostic').getProvider(document)?.onDidChangeDiagnosticsEmitter.fire());
  const degrees = degreeHints(() => client);
  client = createClient(context, output, { ...calm.middleware, ...degrees.middleware });
  const score = createScoreView(context, client, output, calm);
  context.subscriptions.push(
    output, calm, degrees, ...showStatus(client), ...registerCommands(client, output), ...registerChoices(), ...registerBeginning(), ...registerWalkthrough(client), score, ...registerScore(score), registerMoreActions(client, score), ...registerHandouts(context, output), registerBringIn(output), registerSound({ context, client, view: score, output }),
  );
  // Folders have our menu only where somebody works on lessons: without us no folder can be asked whether it holds any.
  void vscode.commands.executeCommand('setContext', 'phrasewright.isActive', true);
  await client.start();
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}

function createClient(context: vscode.ExtensionContext, output: vscode.LogOutputChannel, middleware: Middleware): LanguageClient {
  const module = context.asAbsolutePath(join('dist', 'server.cjs'));
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6009'] } },
  };
  const options: LanguageClientOptions = {
    documentSelector: [{ language: 'phrase' }],
    outputChannel: output,
    middleware,
    initializationOptions: { manual: manual(context).toString(), goesToPlaces: true, playsPhrases: true, listsActions: true },
  };
  return new LanguageClient('phrasewright', 'Phrasewright', server, options);
}

/** The page that explains the rules. */
function manual(context: vscode.ExtensionContext): vscode.Uri {
  return vscode.Uri.joinPath(context.extensionUri, 'server', 'src', 'rules', 'RULES.md');
}
