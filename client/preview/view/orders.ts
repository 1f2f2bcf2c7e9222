/** Does what a command of the editor says. */
import type { FromView, Order, ViewOptions } from '../../src/score/messages';
import type { Controls } from '../controls';
import type { Playing } from '../playing';
import type { Drawing } from './drawing';
import type { Playback } from './playback';
import type { ViewState } from './state';

export interface Orders {
  obey(order: Order): void;
  /** Brings the walk-through of the phrase into sight, as soon as there is a page. */
  explain(): void;
}

export interface OrderParts {
  readonly controls: Pick<Controls, 'showOptions' | 'say'>;
  readonly playing: Pick<Playing, 'stop' | 'applyLevels'>;
  readonly playback: Pick<Playback, 'command' | 'refuse'>;
  readonly drawing: Pick<Drawing, 'now'>;
  post(message: FromView): void;
}

export function createOrders(
  state: Pick<ViewState, 'options' | 'page' | 'cursor' | 'isExplainAsked'>,
  { controls, playing, playback, drawing, post }: OrderParts,
): Orders {
  const choose = (changed: Partial<ViewOptions>): void => {
    state.options = { ...state.options, ...changed };
    controls.showOptions(state.options);
    post({ type: 'options', options: state.options });
  };

  const explain = (): void => {
    state.isExplainAsked = state.page === null;
    if (state.page?.goToWalkthrough(state.cursor.phrase) === false)
      playback.refuse('There is nothing to explain here yet. Write a line of notes.');
  };

  return {
    obey(order) {
      switch (order.kind) {
        case 'play':
          return playback.command(order.what, order.practice);
        case 'stop':
          return playing.stop();
        case 'explain':
          if (!state.options.walkthrough) {
            choose({ walkthrough: true });
            drawing.now();
          }
          return explain();
        case 'mute-line':
          choose({ lineMuted: !state.options.lineMuted });
          playing.applyLevels();
          return controls.say(state.options.lineMuted ? 'The line is muted: play it yourself.' : 'The line is heard.');
      }
    },
    explain,
  };
}
