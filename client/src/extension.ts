/** The extension: starts the language server for `.phrase` files and shows how it is doing. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { registerBeginning } from './begin';
import { calmFindings } from './calm/findings';
import { registerCommands } from './commands';
import { degreeHints } from './degrees';
import { registerHandouts } from './handout/register';
import { registerBringIn } from './import/register';
import { registerMoreActions } from './more-actions';
import { registerChoices } from './pick-action';
import { showError } from './notice';
import { createScoreView } from './score/panel';
import { registerScore } from './score/register';
import { createClient } from './server/client';
import { keepRunning, STOPPED } from './server/keep-running';
import { registerSound } from './sound/register';
import { showStatus } from './status';
import { registerWalkthrough } from './walkthrough';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const output = vscode.window.createOutputChannel('Phrasewright', { log: true });
  const calm = calmFindings((document) => client?.getFeature('textDocument/diagnostic').getProvider(document)?.onDidChangeDiagnosticsEmitter.fire());
  const degrees = degreeHints(() => client);
  const running = keepRunning(() => performance.now(), () => void tellStopped());
  client = createClient({
    module: context.asAbsolutePath(join('dist', 'server.cjs')),
    output,
    middleware: { ...calm.middleware, ...degrees.middleware },
    errorHandler: running.errorHandler,
    manual: manual(context).toString(),
  });
  const startAgain = async (): Promise<void> => running.startAgain(client!);
  const score = createScoreView(context, client, output, calm);
  context.subscriptions.push(
    output, calm, degrees, ...showStatus(client), ...registerCommands({ client, output, startAgain }), ...registerChoices(), ...registerBeginning(), ...registerWalkthrough(client), score, ...registerScore(score), registerMoreActions(client, score), ...registerHandouts(context, output), registerBringIn(output), registerSound({ context, client, view: score, output }),
  );
  // Folders have our menu only where somebody works on lessons: without us no folder can be asked whether it holds any.
  void vscode.commands.executeCommand('setContext', 'phrasewright.isActive', true);
  // A server that does not get through its start is started again, or the writer is told; what needs no server works without one.
  await client.start().catch((error: unknown) => output.error(error instanceof Error ? error : String(error)));
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}

/** What the writer is told once when the server stays down. */
async function tellStopped(): Promise<void> {
  const answer = await showError(STOPPED, 'Start It Again', 'Show the Output');
  if (answer === 'Start It Again') await vscode.commands.executeCommand('phrasewright.restartServer');
  else if (answer !== undefined) await vscode.commands.executeCommand('phrasewright.showOutput');
}

/** The page that explains the rules. */
function manual(context: vscode.ExtensionContext): vscode.Uri {
  return vscode.Uri.joinPath(context.extensionUri, 'server', 'src', 'rules', 'RULES.md');
}
