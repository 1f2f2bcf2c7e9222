/** The score beside the text: one page that follows the phrase document being written. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { CalmFindings } from '../calm/findings';
import { cursorPlace, type TextPlace } from '../text-place';
import { followText } from './following';
import { createReceiver } from './from-page';
import type { Order, Track, TrackSamples, ViewOptions } from './messages';
import { createPagePanel, VIEW } from './page-panel';
import { createRenderings } from './renderings';
import { createRefresh } from './sending';
import { createSounding } from './sounding';
import { chooseOptions, follow, openState, type Choice } from './state';

export type { Choice };

export interface ScoreView extends vscode.Disposable {
  /** Shows the score of a place, beside the text; without one, of the phrase at the cursor. */
  show(place?: TextPlace): Promise<void>;
  /** Asks something of the score, which is shown first if it is to play. */
  order(order: Order, place?: TextPlace): Promise<void>;
  isOpen(): boolean;
  /** What the reader chose. */
  options(): ViewOptions;
  /** Sound made by the page, which has to be shown. Throws an error for people where it cannot be made, and a CancellationError. */
  render(track: Track, token: vscode.CancellationToken): Promise<TrackSamples>;
  /** Shows the phrase as it would be after some edits, or again as it is; nothing where the score is not open. */
  showInstead(choice: Choice | null): Promise<void>;
}

export function createScoreView(
  { globalState: kept, extensionUri }: vscode.ExtensionContext,
  client: LanguageClient,
  output: vscode.LogOutputChannel,
  calm: CalmFindings,
): ScoreView {
  const state = openState(kept);
  const sounding = createSounding();
  const page = createPagePanel(
    extensionUri,
    {
      receive: (message) => receive(message),
      onForgotten() {
        state.shown = undefined;
      },
      onClosed() {
        sounding.end();
        renderings.close();
      },
    },
    output,
  );
  const renderings = createRenderings(page);
  const refresh = createRefresh(state, { client, calm, isOpen: page.isOpen, post: page.post });
  const receive = createReceiver(state, { kept, client, output, page, sounding, renderings, refresh });

  const show = async (place = cursorPlace()): Promise<void> => {
    if (place !== undefined) state.followed = place;
    page.show();
    await page.whenReady();
    await refresh();
  };

  const subscriptions = [
    ...followText(state, { client, calm, isOpen: page.isOpen, post: page.post, refresh }),
    sounding,
    vscode.window.registerWebviewPanelSerializer(VIEW, {
      deserializeWebviewPanel: async (restored) => {
        follow(state, vscode.window.activeTextEditor ?? vscode.window.visibleTextEditors.find(isOfPhrases));
        page.adopt(restored);
      },
    }),
  ];
  return {
    show,
    async order(order, place) {
      if (order.kind === 'play' || order.kind === 'explain') await show(place);
      else if (order.kind === 'mute-line' && !page.isOpen())
        await chooseOptions(state, kept, { ...state.options, lineMuted: !state.options.lineMuted });
      else await page.whenReady();
      if (order.kind === 'explain') page.focus();
      page.post({ type: 'order', order });
    },
    isOpen: page.isOpen,
    options: () => state.options,
    render: renderings.render,
    async showInstead(choice) {
      if (state.choice === null && choice === null) return;
      state.choice = choice;
      await refresh();
    },
    dispose() {
      page.dispose();
      for (const one of subscriptions) one.dispose();
    },
  };
}

function isOfPhrases({ document }: vscode.TextEditor): boolean {
  return document.languageId === 'phrase';
}
