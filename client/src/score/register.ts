/** The commands of the score and of its sound. */
import * as vscode from 'vscode';
import { textPlace } from '../text-place';
import type { Order } from './messages';
import type { ScoreView } from './panel';

/** What each command asks of the score. */
const ORDERS: Readonly<Record<string, Order>> = {
  'phrasewright.openWalkthrough': { kind: 'explain' },
  'phrasewright.playPhrase': { kind: 'play', what: 'phrase', practice: 'plain' },
  'phrasewright.playSelection': { kind: 'play', what: 'selection', practice: 'plain' },
  'phrasewright.loopBar': { kind: 'play', what: 'bar', practice: 'plain' },
  'phrasewright.practiseFaster': { kind: 'play', what: 'phrase', practice: 'faster' },
  'phrasewright.practiseKeys': { kind: 'play', what: 'phrase', practice: 'keys' },
  'phrasewright.stopSound': { kind: 'stop' },
  'phrasewright.muteLine': { kind: 'mute-line' },
};

/** Shows the score beside the first phrases that are opened, where the settings say so. */
function openingByItself(show: () => Promise<void>): vscode.Disposable[] {
  let isDone = false;
  const look = (): void => {
    if (isDone || vscode.window.activeTextEditor?.document.languageId !== 'phrase') return;
    isDone = true;
    if (vscode.workspace.getConfiguration('phrasewright').get('score.opensByItself') === true) void show();
  };
  look();
  return [vscode.window.onDidChangeActiveTextEditor(look)];
}

export function registerScore(view: ScoreView): vscode.Disposable[] {
  return [
    ...openingByItself(() => view.show()),
    vscode.commands.registerCommand('phrasewright.showScore', async (...place: unknown[]) => view.show(await textPlace(place))),
    ...Object.entries(ORDERS).map(([command, order]) =>
      vscode.commands.registerCommand(command, async (...place: unknown[]) => view.order(order, await textPlace(place))),
    ),
  ];
}
