import type { IToken } from 'chevrotain';

/** A row as the parser sees it: its keyword, and words between bar lines (one segment more than bar lines). */
export interface RawRow {
  readonly keyword: IToken;
  readonly segments: readonly RawSegment[];
  readonly barLines: readonly IToken[];
}
export interface RawSegment {
  /** Each word is its neighbouring tokens, nothing but music or text. */
  readonly words: readonly (readonly IToken[])[];
  /** A line of text ends inside the segment. */
  readonly broken: boolean;
}
