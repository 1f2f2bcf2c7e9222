/** The commands of handouts, and their preview after the editor was loaded anew. What does the work is loaded by the first of them. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type * as Bundle from './handouts';

export function registerHandouts(context: vscode.ExtensionContext, output: vscode.LogOutputChannel): vscode.Disposable[] {
  let loaded: Bundle.Handouts | undefined;
  const handouts = (): Bundle.Handouts =>
    (loaded ??= (require(join(__dirname, 'client-handout.cjs')) as typeof Bundle).createHandouts(context, output));
  return [
    vscode.commands.registerCommand('phrasewright.handOut', (...named: unknown[]) => handouts().handOut(named)),
    vscode.commands.registerCommand('phrasewright.previewHandout', (...named: unknown[]) => handouts().preview(named)),
    vscode.window.registerWebviewPanelSerializer('phrasewright.handout', { deserializeWebviewPanel: (panel) => handouts().restore(panel) }),
    { dispose: () => loaded?.dispose() },
  ];
}
