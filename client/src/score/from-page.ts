/** What the page says, and what is done about it. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { showWarning } from '../notice';
import type { FromView, ScorePhrase, TakeAsk } from './messages';
import type { OffsetRange } from './offsets';
import { readOptions } from './options';
import type { PagePanel } from './page-panel';
import type { Renderings } from './renderings';
import type { Sounding } from './sounding';
import { chooseOptions, isCurrent, type ViewState } from './state';
import { takeOf } from './take';
import { goTo, targetOf } from './text-target';

export interface ReceivingParts {
  readonly kept: vscode.Memento;
  readonly client: LanguageClient;
  readonly output: vscode.LogOutputChannel;
  readonly page: Pick<PagePanel, 'post' | 'listens' | 'column'>;
  readonly sounding: Sounding;
  readonly renderings: Pick<Renderings, 'answer'>;
  /** Brings the score up to date. */
  refresh(): Promise<void>;
}

type Receiving = Pick<ViewState, 'options' | 'followed' | 'column' | 'shown'>;

/** Answers what does as a message says; its promise ends when that is done. */
export function createReceiver(state: Receiving, parts: ReceivingParts): (message: FromView) => Promise<void> {
  const { kept, client, output, page, sounding, renderings, refresh } = parts;

  /** A score stays when its text is closed; then the text is read anew, for it may have been closed without being saved. */
  const openText = async (): Promise<void> => {
    if (state.shown?.document.isClosed === true) await refresh();
  };
  const phraseAt = (index: number): ScorePhrase | undefined => state.shown?.score.phrases[index];

  const begin = (): Promise<void> => {
    sounding.end();
    // A page that is loaded again has none of what was sent before.
    state.shown = undefined;
    page.post({ type: 'options', options: state.options });
    page.listens();
    return refresh();
  };

  const choose = async (raw: unknown): Promise<void> => {
    const before = state.options;
    await chooseOptions(state, kept, readOptions(raw));
    if (state.options.scope !== before.scope || state.options.pitch !== before.pitch) await refresh();
  };

  const select = async (place: OffsetRange | undefined, focus: 'text' | 'score'): Promise<void> => {
    const target = targetOf(state, place);
    if (target !== null) await goTo(state, target, focus, { output, column: page.column });
  };

  const takeNow = async (question: TakeAsk): Promise<void> => {
    if (state.shown !== undefined && !isCurrent(state.shown)) await refresh();
    await openText();
    page.post({ type: 'take', ask: question.ask, take: await takeOf(state, question, client, output) });
  };

  return async (message) => {
    switch (message.type) {
      case 'ready':
        return begin();
      case 'more':
        return refresh();
      case 'begin':
        return void vscode.commands.executeCommand('phrasewright.newLesson');
      case 'options':
        return choose(message.options);
      case 'select':
        await openText();
        return select(phraseAt(message.place.phrase)?.notes[message.place.note], message.focus ? 'text' : 'score');
      case 'go-to-finding':
        await openText();
        return select(phraseAt(message.phrase)?.findings[message.finding], 'text');
      case 'take':
        return takeNow(message.question);
      case 'sounding': {
        // Before the mark is made: what comes back tells the way alone.
        page.post({ type: 'pong', sent: message.sent });
        const { place } = message;
        return sounding.mark(place === null ? null : targetOf(state, phraseAt(place.phrase)?.notes[place.note]));
      }
      case 'playing':
        return sounding.setPlaying(message.isPlaying);
      case 'rendered':
        return renderings.answer(message.ask, message.made);
      case 'without-piano':
        output.warn(`The piano could not be loaded: ${message.reason}`);
        return void showWarning('The piano could not be loaded, so what it plays has a synthesized sound. The output says why.');
      case 'ping':
        return page.post({ type: 'pong', sent: message.sent });
    }
  };
}
