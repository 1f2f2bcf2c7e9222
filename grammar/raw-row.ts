import type { IToken } from 'chevrotain';
import type { GoesOn } from './texts';

/** A row as the parser sees it: its keyword, and words between bar lines (one segment more than bar lines). */
export interface RawRow {
  readonly keyword: IToken;
  readonly segments: readonly RawSegment[];
  readonly barLines: readonly IToken[];
  /** What its text in quotes, which lacks its quote, has in the lines below. */
  readonly goesOn?: GoesOn;
  /** The slice that such a text stands in. */
  readonly text?: string;
  /** It is no row: a text that goes on stands there. */
  readonly ofText?: boolean;
}
export interface RawSegment {
  /** Each word is its neighbouring tokens, nothing but music or text. */
  readonly words: readonly (readonly IToken[])[];
  /** A line of text ends inside the segment. */
  readonly broken: boolean;
}
