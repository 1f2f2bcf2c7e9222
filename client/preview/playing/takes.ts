/** Asks the extension for what is to sound, and hands on its answers. */
import type { FromView, PlayedTake, ViewOptions } from '../../src/score/messages';
import type { Wish } from './state';

export interface Takes {
  /** Null where it could not be made. */
  of(wish: Wish): Promise<PlayedTake | null>;
  /** The answer to a question for a take. */
  answer(ask: number, take: PlayedTake | null): void;
}

export interface TakesParts {
  post(message: FromView): void;
  options(): Pick<ViewOptions, 'ratio' | 'countIn'>;
}

export function createTakes({ post, options }: TakesParts): Takes {
  let asks = 0;
  const answers = new Map<number, (take: PlayedTake | null) => void>();
  return {
    of({ uri, phrase, stretch, tempo, practice }) {
      asks += 1;
      const { ratio, countIn } = options();
      post({
        type: 'take',
        question: { ask: asks, uri, name: phrase.name, start: phrase.start, stretch, tempo, ratio, countIn, practice },
      });
      return new Promise((resolve) => answers.set(asks, resolve));
    },
    answer(ask, take) {
      answers.get(ask)?.(take);
      answers.delete(ask);
    },
  };
}

/** Clicks alone are nothing to play. */
export function isAudible({ sounds }: Pick<PlayedTake, 'sounds'>): boolean {
  return sounds.some(({ voice }) => voice !== 'click');
}
