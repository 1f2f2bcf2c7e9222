/** The command that brings in scores. What does the work is loaded by the first call. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type * as Bundle from './bring-in';

export function registerBringIn(output: vscode.LogOutputChannel): vscode.Disposable {
  let loaded: Bundle.BringIn | undefined;
  return vscode.commands.registerCommand('phrasewright.bringIn', (...named: unknown[]) => {
    loaded ??= (require(join(__dirname, 'client-import.cjs')) as typeof Bundle).createBringIn(output);
    return loaded(named);
  });
}
