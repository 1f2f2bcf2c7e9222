/** What a stretch is told as. */
import type { Words } from '../say';

export interface Clause {
  /** Without its verb. */
  readonly words: Words;
  /** 0 to 10. */
  readonly weight: number;
  /** The verb that comes before the words, with its space; it is left out where the clause before has the same. */
  readonly verb?: string;
  /** Whether it says all there is to say of its notes, their figures among them. */
  readonly plain: boolean;
  /** The note after its own to which it goes on, named at its end; null where it leads nowhere. */
  readonly target: number | null;
  /** What is added where nothing else tells the last note: ` and comes to rest on F, the fifth`. */
  readonly rest: Words;
}

/** What is told of plain notes. */
export interface PlainTold extends Pick<Clause, 'words' | 'verb'> {
  /** Whether the words tell what the last note is. */
  readonly tellsEnd: boolean;
  /** As in a clause. */
  readonly target?: number | null;
}
