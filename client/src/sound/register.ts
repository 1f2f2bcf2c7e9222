/** The command of sound files. What does the work is loaded by its first call. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import { showError, showInformation, showWarning } from '../notice';
import { cursorPlace, textPlace, type TextPlace } from '../text-place';
import type * as Bundle from './sounds';

export function registerSound(tools: Bundle.Tools): vscode.Disposable {
  let loaded: typeof Bundle | undefined;
  return vscode.commands.registerCommand('phrasewright.writeSound', async (...named: unknown[]) => {
    const place = (await textPlace(named)) ?? cursorPlace() ?? visiblePlace();
    if (place === undefined) return void showInformation('Open a lesson: it is what will be heard in the file.');
    if (!tools.client.isRunning())
      return void showWarning('The language server does not run, so there is nothing to hear yet. Restart it, and try again.');
    loaded ??= require(join(__dirname, 'client-sound.cjs')) as typeof Bundle;
    try {
      await loaded.writeSound(tools, place);
    } catch (error) {
      tools.output.error(error instanceof Error ? error : String(error));
      void showError(`No sound file was written. ${error instanceof Error ? error.message : String(error)}`);
    }
  });
}

/** While the score has the focus, the text beside it. */
function visiblePlace(): TextPlace | undefined {
  const editor = vscode.window.visibleTextEditors.find(({ document }) => document.languageId === 'phrase');
  return editor === undefined ? undefined : { document: editor.document, position: editor.selection.active };
}
