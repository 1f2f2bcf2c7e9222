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
  return oneByOne(
    (picture) => void engraver.engrave(picture, width()),
    (next) => {
      const timer = window.setTimeout(next, APART);
      return () => clearTimeout(timer);
    },
  );
}

/** Engraves what may be shown, while nothing else is to be done. */
export function engravingWhenIdle(engraver: Engraver, width: () => number): Ahead {
  return oneByOne(
    (picture) => {
      try {
        if (!engraver.has(picture, width())) engraver.engrave(picture, width());
      } catch {
        // It says so when it comes into sight.
      }
    },
    (next) => {
      const idling = requestIdleCallback(next);
      return () => cancelIdleCallback(idling);
    },
  );
}

/** `later` puts off what it is given, and answers how that is called off. */
function oneByOne(engrave: (picture: Engraving) => void, later: (next: () => void) => () => void): Ahead {
  let stop = (): void => undefined;
  return {
    stop: () => stop(),
    begin(pictures) {
      const waiting = [...pictures];
      const next = (): void => {
        const picture = waiting.shift();
        if (picture === undefined) return;
        engrave(picture);
        stop = later(next);
      };
      stop();
      stop = later(next);
    },
  };
}
