/** The commands of the score and of its sound. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { textPlace } from '../text-place';
import type { Order } from './messages';
import { createScoreView } from './panel';

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

export function registerScore(context: vscode.ExtensionContext, client: LanguageClient, output: vscode.LogOutputChannel): vscode.Disposable[] {
  const view = createScoreView(context, client, output);
  return [
    view,
    vscode.commands.registerCommand('phrasewright.showScore', async (...place: unknown[]) => view.show(await textPlace(place))),
    ...Object.entries(ORDERS).map(([command, order]) =>
      vscode.commands.registerCommand(command, async (...place: unknown[]) => view.order(order, await textPlace(place)))),
  ];
}
