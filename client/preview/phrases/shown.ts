/** What the page shows now: all that changes of it in one record, of which each part of the page takes what it needs. */
import { DEFAULT_OPTIONS, type KeyPicture, type NotePlace, type ScorePhrase } from '../../src/score/messages';
import type { Section } from '../section';
import { inKey } from './pictured';
import { widthOf, type Room } from './room';

/** A phrase as it is shown now. */
export interface Shown {
  readonly section: Section;
  /** Document, name, and how many of that name. */
  key: string;
  phrase: ScorePhrase;
  /** The phrase whose picture it is: the last one that could be read whole. */
  pictured: ScorePhrase;
  /** What it was drawn for: nothing is done while that is the same. */
  drawnFor: string;
  /** Its picture is out of date. It is drawn when it comes near to what is in sight. */
  isWaiting: boolean;
}

/** A phrase that sounds in another key. */
export interface Played {
  readonly phrase: number;
  readonly picture: KeyPicture;
  readonly words: string;
}

export interface PageState extends Room {
  /** In the order of the score. */
  shown: readonly Shown[];
  cursor: { readonly phrase: number; readonly note: number | null };
  sounding: NotePlace | null;
  played: Played | null;
  /** The last picture of each phrase that could be read whole, by its key. */
  readonly good: Map<string, ScorePhrase>;
}

/** What some part of the page reads of the record; with every score another list of phrases stands in it. */
export type Reads<K extends keyof PageState> = Readonly<Pick<PageState, K>>;

export function emptyPage(container: HTMLElement): PageState {
  return {
    shown: [],
    cursor: { phrase: 0, note: null },
    sounding: null,
    played: null,
    good: new Map(),
    width: widthOf(container),
    options: DEFAULT_OPTIONS,
  };
}

/** A phrase as its picture shows it: in the key that sounds, where it sounds in another. */
export function phraseAt({ shown, played }: Reads<'shown' | 'played'>, index: number): ScorePhrase | undefined {
  const pictured = shown[index]?.pictured;
  return pictured !== undefined && played?.phrase === index ? inKey(pictured, played.picture) : pictured;
}
