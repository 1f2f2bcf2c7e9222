/** Tells the text of a note, so early that its mark is seen when the note is heard. */
import type { CursorStep, FromView } from '../../src/score/messages';
import { showObservers, TOLD_MARK } from './observers';
import { placeOf } from './place';
import type { Reads, ShownPhrases } from './state';
import type { Trips } from './trips';

/** Milliseconds until what the text is told to draw is seen: one frame until the editor draws, one until that is shown (so measured). */
const DRAWN = 32;

export interface TellingParts {
  post(message: FromView): void;
  shown(): ShownPhrases;
}

/** Answers what is to be told of each note ahead of it: the note, and the milliseconds until it is heard. */
export function createTelling(
  state: Reads,
  { post, shown }: TellingParts,
  { expected }: Pick<Trips, 'expected'>,
): (step: CursorStep, inMilliseconds: number) => void {
  return ({ note }, inMilliseconds) => {
    const [during, due] = [state.current, performance.now() + inMilliseconds];
    const tell = (): void => {
      if (during === null || during !== state.current) return;
      const sent = performance.now();
      showObservers(TOLD_MARK, { startTime: sent, detail: { note, due } });
      post({ type: 'sounding', place: placeOf(during.wish, note, shown()), sent });
    };
    // So much earlier as the message takes to the extension, its mark to the editor and to the screen.
    setTimeout(tell, Math.max(0, inMilliseconds - expected() - DRAWN));
  };
}
