/** What plays and how far it is: all that changes of it in one record, of which each part takes what it needs. */
import type { PlayedTake, Practice, ScorePhrase, Stretch } from '../../src/score/messages';

/** Once, or all of it again and again, or the last time through. */
export type Repeat = 'none' | 'all' | 'last';

/** What is to be played. */
export interface Wish {
  readonly uri: string;
  readonly phrase: ScorePhrase;
  readonly stretch: Stretch | null;
  /** Beats a minute; null: as written. */
  readonly tempo: number | null;
  readonly practice: Practice;
  readonly repeat: Repeat;
}

export interface Current {
  wish: Wish;
  /** Null while it is asked for. */
  take: PlayedTake | null;
  note: number | null;
  pass: number | null;
}

export interface PlayingState {
  /** What plays or is about to; another wish or a stop takes its place. */
  current: Current | null;
}

export type Reads = Readonly<PlayingState>;

/** The phrases that are shown, and of which document. */
export interface ShownPhrases {
  readonly uri: string;
  readonly phrases: readonly ScorePhrase[];
}
