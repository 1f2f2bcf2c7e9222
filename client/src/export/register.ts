/** The command that exports. What does the work is loaded by the first call. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type * as Bundle from './exports';

export function registerExport(context: vscode.ExtensionContext, output: vscode.LogOutputChannel): vscode.Disposable {
  let loaded: ReturnType<typeof Bundle.createExports> | undefined;
  return vscode.commands.registerCommand('phrasewright.exportMusic', (...named: unknown[]) =>
    (loaded ??= (require(join(__dirname, 'client-export.cjs')) as typeof Bundle).createExports(context, output))(named),
  );
}
