/** Pictures that are engraved ahead of their time, so that they are at hand when they are to be shown. */
import type { Engraver, Engraving } from '../../../server/src/picture/engraver';

export interface Ahead {
  /** Engraves these, one by one, in place of those before. */
  begin(pictures: readonly Engraving[]): void;
  stop(): void;
}

/** Milliseconds between two pictures. */
const APART = 50;

/** Engraves what will be shown soon; `width`: pixels, asked for each picture. */
export function engravingSoon(engraver: Engraver, width: () => number): Ahead {
  let timer = 0;
  const stop = (): void => clearTimeout(timer);
  return {
    stop,
    begin(pictures) {
      const waiting = [...pictures];
      const next = (): void => {
        const picture = waiting.shift();
        if (picture === undefined) return;
        engraver.engrave(picture, width());
        timer = window.setTimeout(next, APART);
      };
      stop();
      timer = window.setTimeout(next, APART);
    },
  };
}

/** Engraves what may be shown, while nothing else is to be done. */
export function engravingWhenIdle(engraver: Engraver, width: () => number): Ahead {
  let idling = 0;
  const stop = (): void => cancelIdleCallback(idling);
  return {
    stop,
    begin(pictures) {
      const waiting = [...pictures];
      const next = (): void => {
        const picture = waiting.shift();
        if (picture === undefined) return;
        try {
          if (!engraver.has(picture, width())) engraver.engrave(picture, width());
        } catch {
          // It says so when it comes into sight.
        }
        idling = requestIdleCallback(next);
      };
      stop();
      idling = requestIdleCallback(next);
    },
  };
}
