/** A point about a stretch: what is said beside what it is. */
import type { Words } from '../say';

export interface Point {
  readonly words: Words;
  /** Whether it tells what a note is, and not where the line goes: what comes next does not follow upon it with “then”. */
  readonly states: boolean;
  /** How much a teacher wants to say it, 0 to 10. */
  readonly weight: number;
  /** The same where a bar before has said it in the same words; as much as the first time where it is not given. */
  readonly again?: number | undefined;
  /** The notes it is about. */
  readonly notes: readonly number[];
  /** Where it leads; a note that is led to is told so once. */
  readonly target: number | null;
}

/** What an enclosure is besides: the guide tone in it resolves, or the tension. */
export const BESIDES: ReadonlySet<string> = new Set(['guide-tone-resolution', 'tension-resolution', 'leading-tone']);
