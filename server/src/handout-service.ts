/** What the editor asks of the server's side to hand out: a bundle of its own, which is loaded by the first handout. */
import type { TheoryOptions } from './analysis/types';
import { readSettings } from './features/options';
import { EXTRAS, extrasOf, SHEET_ENDINGS, SHEETS } from './handout/types';
import { lessonTitle, openSnapshot, phraseNear } from './model/snapshot';
import { PARTS } from './theory/part';

export { createHandoutMaker } from './hand-out';

/** What can be chosen. */
export const CHOICES = {
  sheets: SHEETS, extras: EXTRAS, extrasOf, endings: SHEET_ENDINGS, parts: PARTS.map(({ name, label }) => ({ name, label })),
  /** Round the cycle of fifths. */
  tonics: ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'],
} as const;

/** The part of the editor's settings that decides what notes are. */
export function theoryOf(settings: unknown): TheoryOptions {
  return readSettings(settings).theory;
}

export interface Names {
  /** Null where it has none. */
  readonly lesson: string | null;
  /** Of the phrase at the offset, between phrases of the next one; null where there is none. */
  readonly phrase: string | null;
}

/** How a lesson and the phrase at an offset of its text are called. */
export function namesAt(text: string, offset: number): Names {
  const snapshot = openSnapshot('', 1, text);
  const phrase = phraseNear(snapshot, offset);
  return { lesson: lessonTitle(snapshot) || null, phrase: phrase === null ? null : phrase.phrase.name || 'without a name' };
}
