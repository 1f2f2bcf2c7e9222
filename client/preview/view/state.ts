/** What the page of the score has and shows: all that changes of it in one record, of which each part takes what it needs. */
import { DEFAULT_OPTIONS, type Score, type ScorePhrase, type ViewOptions } from '../../src/score/messages';
import type { Page } from '../page';
import { nameOf, type Subject, type Tempos } from '../subject';
import type { Asked } from './asked';
import { START, type Cursor } from './cursor';

export interface ViewState {
  options: ViewOptions;
  /** Null until the engraving library is loaded. */
  page: Page | null;
  /** The last score that came. */
  shown: { readonly uri: string; readonly score: Score } | null;
  cursor: Cursor;
  tempos: Tempos;
  /** What was last asked for. */
  asked: Asked;
  /** What the controls said before a command chose otherwise. */
  chosen: Asked | null;
  /** The walk-through was asked for before there was a page. */
  isExplainAsked: boolean;
  /** A refusal stands until something else is looked at. */
  isRefused: boolean;
}

/** What some part of the page reads of the record. */
export type Reads<K extends keyof ViewState> = Readonly<Pick<ViewState, K>>;

export function openView(): ViewState {
  return {
    options: DEFAULT_OPTIONS,
    page: null,
    shown: null,
    cursor: START,
    tempos: new Map(),
    asked: { what: 'phrase', kind: 'plain' },
    chosen: null,
    isExplainAsked: false,
    isRefused: false,
  };
}

/** The phrase at the cursor. */
export function phraseHere({ shown, cursor }: Reads<'shown' | 'cursor'>): ScorePhrase | undefined {
  return shown?.score.phrases[cursor.phrase];
}

/** The tempo that the reader set, in beats a minute; null: as written. */
export function tempoOf({ tempos }: Reads<'tempos'>, subject: Subject): number | null {
  return tempos.get(nameOf(subject)) ?? null;
}
