/** The commands of the score and of its sound. */
import * as vscode from 'vscode';
import { textPlace } from '../text-place';
import type { Order } from './messages';
import type { ScoreView } from './panel';

/** What each command asks of the score. */
const ORDERS: Readonly<Record<string, Order>> = {
  'phrasewright.playPhrase': { kind: 'play', what: 'phrase', practice: 'plain' },
  'phrasewright.playSelection': { kind: 'play', what: 'selection', practice: 'plain' },
  'phrasewright.loopBar': { kind: 'play', what: 'bar', practice: 'plain' },
  'phrasewright.practiseFaster': { kind: 'play', what: 'phrase', practice: 'faster' },
  'phrasewright.practiseKeys': { kind: 'play', what: 'phrase', practice: 'keys' },
  'phrasewright.stopSound': { kind: 'stop' },
  'phrasewright.muteLine': { kind: 'mute-line' },
};

export function registerScore(view: ScoreView): vscode.Disposable[] {
  return [
    vscode.commands.registerCommand('phrasewright.showScore', async (...place: unknown[]) => view.show(await textPlace(place))),
    ...Object.entries(ORDERS).map(([command, order]) =>
      vscode.commands.registerCommand(command, async (...place: unknown[]) => view.order(order, await textPlace(place)))),
  ];
}
