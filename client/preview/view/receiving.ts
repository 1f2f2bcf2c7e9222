/** What the extension says, and what is done about it. */
import { isPartial, knownOf, wholeScore } from '../../src/score/known';
import type { FromView, ToView } from '../../src/score/messages';
import type { Controls } from '../controls';
import type { Playing } from '../playing';
import { renamedTempos } from '../subject';
import { keptNote, movedCursor } from './cursor';
import type { Drawing } from './drawing';
import type { Orders } from './orders';
import type { Playback } from './playback';
import type { ViewState } from './state';

export interface ReceivingParts {
  readonly controls: Pick<Controls, 'showOptions'>;
  readonly playing: Pick<Playing, 'answer' | 'applyLevels' | 'pong' | 'rename'>;
  readonly playback: Pick<Playback, 'forgetRefusal'>;
  readonly drawing: Drawing;
  readonly orders: Pick<Orders, 'obey'>;
  post(message: FromView): void;
  showTempo(): void;
  render(message: Message<'render'>): void;
}

type Message<T extends ToView['type']> = Extract<ToView, { readonly type: T }>;

/** Milliseconds between what came of a long lesson and what is asked for next, in which keys and pictures have their turn. */
const BETWEEN_PARTS = 60;

export function createReceiver(state: ViewState, parts: ReceivingParts): (message: ToView) => void {
  const { controls, playing, playback, drawing, orders, post, showTempo, render } = parts;

  const takeScore = ({ uri, score: sent, instead }: Message<'score'>): void => {
    const score = wholeScore(sent, state.shown === null ? new Map() : knownOf(state.shown.score));
    // The extension knows what was sent here: what it counts on is there.
    if (score === null) return;
    state.shown = { uri, score };
    state.cursor = movedCursor(state.cursor, score.here);
    drawing.showChoice(instead);
    drawing.soon();
    // What is in sight is drawn before more of a long lesson is asked for.
    if (isPartial(score)) window.setTimeout(() => post({ type: 'more' }), BETWEEN_PARTS);
  };

  const takeCursor = ({ phrase, note, selection }: Message<'cursor'>): void => {
    const notes = state.shown?.score.phrases[phrase]?.notes;
    state.cursor = { phrase, note: keptNote(state.cursor, { phrase, note }, notes), selection };
    state.page?.markCursor(state.cursor);
    showTempo();
    playback.forgetRefusal();
  };

  return (message) => {
    switch (message.type) {
      case 'options':
        state.options = message.options;
        controls.showOptions(state.options);
        playing.applyLevels();
        return drawing.now();
      case 'score':
        return takeScore(message);
      case 'cursor':
        return takeCursor(message);
      case 'take':
        return playing.answer(message.ask, message.take);
      case 'order':
        return orders.obey(message.order);
      case 'render':
        return render(message);
      case 'renamed':
        state.tempos = renamedTempos(state.tempos, message.files);
        return playing.rename(message.files);
      case 'pong':
        return playing.pong(message.sent);
    }
  };
}
