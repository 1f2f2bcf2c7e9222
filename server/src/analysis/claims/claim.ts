/** A claim is a sentence of the lesson: it holds, it is refuted by a note, or it names something that cannot be. */
import type { Range, Word } from '../../../../grammar/tree';
import type { Reading } from '../types';

export interface Claim {
  readonly range: Range;
  /** Without the keyword. */
  readonly words: readonly Word[];
  readonly text: string;
}

export interface Answer {
  /** `unchecked`: a fault of the program keeps it from being checked. */
  readonly status: 'holds' | 'refuted' | 'impossible' | 'unchecked';
  /** Why, as the end of a sentence: `the B in bar 2 is the 7 of Cmaj7`. */
  readonly because: string;
  /** The first note that breaks it, or that proves it. */
  readonly note: number | null;
  /** What would hold instead, as a whole claim without the keyword; several, likeliest first. */
  readonly instead: readonly string[];
}

/** Reads a claim of its kind; null where the words are of another kind. */
export type ClaimKind = (words: readonly string[], reading: Reading) => Answer | null;

export function holds(because: string, note: number | null = null): Answer {
  return { status: 'holds', because, note, instead: [] };
}

export function refuted(because: string, note: number | null, instead: readonly string[] = []): Answer {
  return { status: 'refuted', because, note, instead };
}

export function impossible(because: string, instead: readonly string[] = []): Answer {
  return { status: 'impossible', because, note: null, instead };
}
