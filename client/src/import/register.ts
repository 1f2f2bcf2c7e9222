/** The commands that bring in scores. What does the work is loaded by the first call. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type * as Bundle from './bring-in';

export function registerBringIn(output: vscode.LogOutputChannel): vscode.Disposable {
  let loaded: ReturnType<typeof Bundle.createBringIn> | undefined;
  const load = (): ReturnType<typeof Bundle.createBringIn> =>
    (loaded ??= (require(join(__dirname, 'client-import.cjs')) as typeof Bundle).createBringIn(output));
  return vscode.Disposable.from(
    vscode.commands.registerCommand('phrasewright.bringIn', (...named: unknown[]) => load().plain(named)),
    vscode.commands.registerCommand('phrasewright.bringInWith', (...named: unknown[]) => load().withWishes(named)),
  );
}
