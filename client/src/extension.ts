/** The extension: starts the language server for `.phrase` files and shows how it is doing. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import { registerBeginning } from './begin';
import { calmFindings } from './calm/findings';
import { calmLenses } from './calm/lenses';
import { registerCommands } from './commands';
import { degreeHints } from './degrees';
import { registerExport } from './export/register';
import { registerHandouts } from './handout/register';
import { registerBringIn } from './import/register';
import { registerMoreActions } from './more-actions';
import { nearbyFixes } from './nearby-fixes';
import { registerChoices } from './pick-action';
import { showError } from './notice';
import { keepOvertaken } from './overtaken';
import { createScoreView } from './score/panel';
import { registerScore } from './score/register';
import { createClient, watchStates, type ServedClient } from './server/client';
import { keepRunning, STOPPED } from './server/keep-running';
import { ALIVE, CLOCK, SILENT, watchSilence } from './server/watch-silence';
import { registerSound } from './sound/register';
import { showStatus } from './status';
import { registerWalkthrough } from './walkthrough';

let client: ServedClient | undefined;
let stop = async (): Promise<void> => undefined;

export function activate(context: vscode.ExtensionContext): void {
  const output = vscode.window.createOutputChannel('Phrasewright', { log: true });
  const calm = calmFindings({
    askAgain: (document) => client?.getFeature('textDocument/diagnostic').getProvider(document)?.onDidChangeDiagnosticsEmitter.fire(),
    tellPens: (document, offsets) => void tellPens(document, offsets).catch(() => undefined),
  });
  const degrees = degreeHints(() => client, calm);
  const running = keepRunning(CLOCK.now, () => void offerStart(STOPPED));
  const silence = watchSilence(
    CLOCK,
    () => void client?.sendRequest(ALIVE).catch(() => undefined),
    () => void offerStart(SILENT),
  );
  client = createClient({
    module: context.asAbsolutePath(join('dist', 'server.cjs')),
    output,
    middleware: { ...calm.middleware, ...calmLenses(calm), ...degrees.middleware, ...silence.middleware, ...nearbyFixes() },
    errorHandler: running.errorHandler,
    manual: manual(context).toString(),
  });
  const served = client;
  stop = () => running.stop(served);
  // A server that does not get through its start is started again, or the writer is told.
  const notStarted = (error: unknown): void => output.error(error instanceof Error ? error : String(error));
  const startAgain = (): Promise<void> => running.startAgain(served).catch(notStarted);
  const score = createScoreView(context, client, output, calm);
  context.subscriptions.push(
    output,
    calm,
    degrees,
    watchStates(client, silence),
    ...showStatus(client),
    ...registerCommands({ client, output, startAgain }),
    ...registerChoices(),
    ...keepOvertaken(),
    ...registerBeginning(),
    ...registerWalkthrough(client),
    score,
    ...registerScore(score),
    registerMoreActions(client, score),
    ...registerHandouts(context, output),
    registerExport(context, output),
    registerBringIn(output),
    registerSound({ context, client, view: score, output }),
  );
  const lensesAgain = calm.onDidRelease((document) =>
    client?.getFeature('textDocument/codeLens').getProvider(document)?.onDidChangeCodeLensEmitter.fire(),
  );
  context.subscriptions.push(lensesAgain);
  // Folders have our menu only where somebody works on lessons: without us no folder can be asked whether it holds any.
  void vscode.commands.executeCommand('setContext', 'phrasewright.isActive', true);
  // Commands wait until we are active: those that need no server work without one, be it that it never gets through its start.
  void client.start().catch(notStarted);
}

export function deactivate(): Promise<void> {
  return stop();
}

/** A server that is stopping or starting knows no version to which this belongs. */
async function tellPens(document: vscode.TextDocument, offsets: readonly number[]): Promise<void> {
  if (client?.isRunning() !== true) return;
  const { uri, version } = document;
  await client.sendNotification('phrasewright/writing', {
    textDocument: { uri: client.code2ProtocolConverter.asUri(uri), version },
    positions: offsets.map((offset) => document.positionAt(offset)),
  });
}

/** What the writer is told once of a server that is of no use. */
async function offerStart(why: string): Promise<void> {
  const answer = await showError(why, 'Start It Again', 'Show the Output');
  if (answer === 'Start It Again') await vscode.commands.executeCommand('phrasewright.restartServer');
  else if (answer !== undefined) await vscode.commands.executeCommand('phrasewright.showOutput');
}

/** The page that explains the rules. */
function manual(context: vscode.ExtensionContext): vscode.Uri {
  return vscode.Uri.joinPath(context.extensionUri, 'server', 'src', 'rules', 'RULES.md');
}
