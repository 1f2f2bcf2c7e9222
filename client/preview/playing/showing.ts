/** Shows in the score and in words what sounds now. */
import type { Pass } from '../../src/score/messages';
import { soundingWords } from '../subject';
import type { PlayingHost } from './host';
import { indexOf, placeOf } from './place';
import type { Reads } from './state';
import { passWords, pictureWords } from './words';

export interface Showing {
  note(): void;
  /** The phrase in the key that sounds, where that is not the written one. */
  key(): void;
  /** The pass that sounds, in its key and in words. */
  pass(pass: Pass): void;
  /** Nothing sounds. */
  end(): void;
}

export function createShowing(state: Reads, host: Pick<PlayingHost, 'page' | 'shown' | 'say' | 'showSounding'>): Showing {
  const key = (): void => {
    const { current } = state;
    if (current === null || current.take === null || current.pass === null) return;
    const index = indexOf(current.wish, host.shown());
    const [pass, picture] = [current.take.passes[current.pass]!, current.take.pictures[current.pass]];
    if (index === null || picture === undefined) host.page()?.showWritten();
    else host.page()?.showPlayed(index, picture, pictureWords(pass));
  };
  return {
    note() {
      const { current } = state;
      if (current === null || current.note === null) return host.page()?.markSounding(null);
      host.page()?.markSounding(placeOf(current.wish, current.note, host.shown()));
      // Between two passes no note sounds; the bar that was said stays.
      host.showSounding(soundingWords(current.wish.phrase, current.note));
    },
    key,
    pass(pass) {
      const { current } = state;
      if (current === null || current.take === null || current.pass === null) return;
      key();
      host.say(passWords(current.take, pass, current.pass));
    },
    end() {
      host.page()?.showWritten();
      host.page()?.markSounding(null);
    },
  };
}
