/** An immutable picture of one version of a document: its slices, its definitions, and its phrases in exact time. */
import type { PlacedSlice, Problem } from '../../../grammar/tree';
import type { Definitions, Phrase } from './types';

export interface PlacedPhrase {
  /** UTF-16 offset of the phrase's slice in the file: add it to every range of the phrase. */
  readonly start: number;
  readonly phrase: Phrase;
}

/** A problem with the offset of the slice whose ranges it uses. */
export interface PlacedProblem {
  readonly start: number;
  readonly problem: Problem;
}

export interface Snapshot {
  readonly uri: string;
  readonly version: number;
  readonly text: string;
  readonly slices: readonly PlacedSlice[];
  readonly definitions: Definitions;
  readonly phrases: readonly PlacedPhrase[];
  /** Syntax and model problems (not yet those of the analysis). */
  readonly problems: readonly PlacedProblem[];
}
