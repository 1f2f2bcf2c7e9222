/** The commands of the palette. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';

interface Tools {
  readonly client: LanguageClient;
  readonly output: vscode.LogOutputChannel;
  startAgain(): Promise<void>;
}

export function registerCommands({ client, output, startAgain }: Tools): vscode.Disposable[] {
  return [
    vscode.commands.registerCommand('phrasewright.restartServer', startAgain),
    vscode.commands.registerCommand('phrasewright.showOutput', () => output.show()),
    vscode.commands.registerCommand('phrasewright.cycleDegreeHints', cycleDegreeHints),
    vscode.commands.registerCommand('phrasewright.goToPlace', (uri: string, range: PlainRange) => goToPlace(client, uri, range)),
  ];
}

const HINTS = ['all', 'clashes', 'off'] as const;

/** All degrees, then clashes only, then none, then all again. */
async function cycleDegreeHints(): Promise<void> {
  const settings = vscode.workspace.getConfiguration('phrasewright');
  const current = settings.get<(typeof HINTS)[number]>('inlayHints.degrees', 'all');
  const next = HINTS[(HINTS.indexOf(current) + 1) % HINTS.length]!;
  await settings.update('inlayHints.degrees', next, vscode.ConfigurationTarget.Global);
  const said = { all: 'all notes', clashes: 'notes with a finding', off: 'none' }[next];
  vscode.window.setStatusBarMessage(`Degrees are shown for: ${said}`, 4000);
}

/** A range as the protocol sends it. */
interface PlainRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** Moves the cursor to a place that the server names. */
async function goToPlace(client: LanguageClient, uri: string, { start, end }: PlainRange): Promise<void> {
  const selection = new vscode.Range(start.line, start.character, end.line, end.character);
  await vscode.window.showTextDocument(client.protocol2CodeConverter.asUri(uri), { selection });
}
