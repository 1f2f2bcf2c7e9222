/** What of the page is drawn when: what is in sight and near to it, in slices, so that typing goes on meanwhile. */
import { nextToDraw, nextToEngrave } from '../sight';
import type { Ahead } from './ahead';
import { extentsOf, view, type Anchor } from './anchor';
import type { Marks } from './marks';
import { keepingFocus } from './places';
import type { Reads } from './shown';

export interface Drawing {
  /** Draws what waits in sight and about as far again around it; then what is next to it is engraved while nothing else is to be done. */
  inSight(): void;
  /** Draws the phrase at the cursor, if it waits. Answers the milliseconds that took; null where it stays. */
  current(): number | null;
  /** Draws a phrase, if it waits. */
  atOnce(index: number): void;
  /** What is in sight is drawn, and engraved, when it is asked for again. */
  pause(): void;
}

export interface DrawingParts {
  /** Draws the picture of a phrase; after that it waits no longer. */
  draw(index: number): void;
  readonly anchor: Pick<Anchor, 'hold'>;
  readonly marks: Pick<Marks, 'showIn'>;
  readonly idle: Ahead;
}

/** Milliseconds that drawing goes on before a key may come in between. */
const SLICE = 40;

export function createDrawing(page: Reads<'shown' | 'cursor'>, { draw, anchor, marks, idle }: DrawingParts): Drawing {
  let timer = 0;
  const waits = (index: number): boolean => page.shown[index]?.isWaiting === true;

  /** To ask where phrases stand lays out the page: only where one waits. */
  const next = (): number | null =>
    page.shown.some(({ isWaiting }) => isWaiting) ? nextToDraw(waits, extentsOf(page), view(), page.cursor.phrase) : null;

  const inSight = (): void => {
    clearTimeout(timer);
    const until = performance.now() + SLICE;
    for (let index = next(); index !== null; index = next()) {
      const drawn = index;
      anchor.hold(() => keepingFocus(page, () => draw(drawn)));
      marks.showIn(drawn);
      if (performance.now() < until) continue;
      timer = window.setTimeout(inSight);
      return;
    }
    idle.begin(nextToEngrave(waits, extentsOf(page), view(), page.cursor.phrase).map((near) => page.shown[near]!.pictured));
  };

  return {
    inSight,
    current() {
      const { phrase } = page.cursor;
      if (!waits(phrase)) return null;
      const from = performance.now();
      draw(phrase);
      return performance.now() - from;
    },
    atOnce(index) {
      if (waits(index)) anchor.hold(() => draw(index));
    },
    pause() {
      clearTimeout(timer);
      idle.stop();
    },
  };
}
