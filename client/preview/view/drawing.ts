/** Draws the score that came, and what stands above it. */
import { setText } from '../dom';
import type { Playing } from '../playing';
import { waitAfter, type Picture } from '../sight';
import type { Told } from '../told';
import type { Elements } from './elements';
import type { ViewState } from './state';

export interface Drawing {
  now(): void;
  /** At once, or after as long a rest as the last picture took. */
  soon(): void;
  /** Says that the picture is of a choice that is not made yet, and of which; null: it is of the text. */
  showChoice(title: string | null): void;
}

export interface DrawingParts {
  readonly told: Pick<Told, 'hide'>;
  readonly playing: Pick<Playing, 'isPlaying' | 'follow'>;
  showTempo(): void;
  tellBarHeight(): void;
}

export function createDrawing(
  state: Pick<ViewState, 'options' | 'page' | 'shown' | 'cursor'>,
  { container, lesson, notice, choice, begin }: Elements,
  { told, playing, showTempo, tellBarHeight }: DrawingParts,
): Drawing {
  /** The last picture of the phrase at the cursor. */
  let last: Picture = { took: 0, ended: 0 };
  let later = 0;

  const now = (): void => {
    const { page, shown, options } = state;
    if (page === null || shown === null) return;
    told.hide();
    setText(lesson, shown.score.lesson ?? '');
    begin.hidden = shown.score.count > 0;
    setText(
      notice,
      shown.score.phrases.length === 0 ? 'This file has no phrase yet. Write one: phrase "Name", and under it a line of notes.' : '',
    );
    showTempo();
    // What stands above the phrases is in its place by now: what is brought into sight stays there.
    tellBarHeight();
    // The cursor may have gone on to another phrase since the score came.
    const here = shown.score.here === null ? null : state.cursor.phrase;
    const took = page.show(shown.uri, { ...shown.score, here }, options);
    if (took !== null) last = { took, ended: performance.now() };
    if (playing.isPlaying()) playing.follow();
  };

  return {
    now,
    soon() {
      clearTimeout(later);
      const wait = waitAfter(last, performance.now());
      if (wait === 0) now();
      else later = window.setTimeout(now, wait);
    },
    showChoice(title) {
      setText(choice, title === null ? '' : `As it would be: ${title}`);
      container.classList.toggle('instead', title !== null);
      // The note at the cursor is one of the text, not of the choice.
      if (title === null) return;
      state.cursor = { ...state.cursor, note: null, selection: null };
      state.page?.markCursor(state.cursor);
    },
  };
}
