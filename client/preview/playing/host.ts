/** What playing needs of the page around it. */
import type { FromView, ViewOptions } from '../../src/score/messages';
import type { Page } from '../page';
import type { Piano } from '../piano';
import type { Repeat, ShownPhrases } from './state';

export interface PlayingHost {
  post(message: FromView): void;
  page(): Page | null;
  shown(): ShownPhrases;
  options(): ViewOptions;
  /** Null where it cannot be had. */
  loadPiano(): Promise<Piano | null>;
  /** It plays, or is about to (as often as said); null: it does not. */
  onPlaying(repeat: Repeat | null): void;
  say(words: string): void;
  /** The phrase that sounds and the bar of it, in words; empty for nothing. */
  showSounding(words: string): void;
}
