/** Shows a phrase in the key in which it sounds, and as it is written again. */
import type { KeyPicture } from '../../src/score/messages';
import { stateWords } from './pictured';
import type { PageState, Reads } from './shown';

export interface PlayedKeys {
  /** Shows a phrase in another key, with words on it; any other as it is written. */
  show(phrase: number, picture: KeyPicture, words: string): void;
  /** Shows all as written again. */
  end(): void;
}

/** `draw` draws the picture of a phrase; `changing` does what changes pictures, and puts right what depends on them. */
export function createPlayedKeys(
  page: Reads<'shown'> & Pick<PageState, 'played'>,
  draw: (index: number) => void,
  changing: (change: () => void) => void,
): PlayedKeys {
  const drawAsWritten = (index: number): void => {
    const one = page.shown[index]!;
    one.section.showState(stateWords(one), 'error');
    draw(index);
  };
  return {
    show(phrase, picture, words) {
      const before = page.played;
      page.played = { phrase, picture, words };
      changing(() => {
        if (before !== null && before.phrase !== phrase && page.shown[before.phrase] !== undefined) drawAsWritten(before.phrase);
        if (page.shown[phrase]?.section.isStale() === false) draw(phrase);
      });
    },
    end() {
      const before = page.played;
      page.played = null;
      if (before !== null && page.shown[before.phrase] !== undefined) changing(() => drawAsWritten(before.phrase));
    },
  };
}
