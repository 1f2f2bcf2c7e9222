/** How a lesson and its phrases are called, for whoever chooses between them. */
import { lessonTitle, openSnapshot, phraseNear } from './model/snapshot';

export interface Names {
  /** Null where it has none. */
  readonly lesson: string | null;
  /** Of the phrase at the offset, between phrases the next one; null where there is none. */
  readonly phrase: string | null;
}

/** How a lesson and the phrase at an offset of its text are called. */
export function namesAt(text: string, offset: number): Names {
  const snapshot = openSnapshot('', 1, text);
  const phrase = phraseNear(snapshot, offset);
  return { lesson: lessonTitle(snapshot) || null, phrase: phrase === null ? null : phrase.phrase.name || 'without a name' };
}
