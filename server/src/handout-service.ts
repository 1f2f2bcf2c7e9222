/** What the editor asks of the server's side to hand out: a bundle of its own, which is loaded by the first handout. */
import { EXTRAS, extrasOf, SHEET_ENDINGS, SHEETS } from './handout/types';
import { PARTS } from './theory/part';

export { createHandoutMaker } from './hand-out';
export { theoryOf } from './features/options';
export { namesAt } from './lesson-names';

/** What can be chosen. */
export const CHOICES = {
  sheets: SHEETS,
  extras: EXTRAS,
  extrasOf,
  endings: SHEET_ENDINGS,
  parts: PARTS.map(({ name, label }) => ({ name, label })),
  /** Round the cycle of fifths. */
  tonics: ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'],
} as const;
