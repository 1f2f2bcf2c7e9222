/** The figure that is shown for a note: one of the trade's, and one that a writer can copy into a `degrees` row, or into the line. */
import { isSpelledStrangely } from '../theory/called';
import { copyable, formatFigure } from '../theory/figure';
import type { NoteName } from '../theory/types';
import type { Reading, ChordPlacement } from './types';

/** `b3`, `#11`; `n7` for a major seventh over G7. */
export function shownFigure({ phrase }: Pick<Reading, 'phrase'>, { span, called }: Pick<ChordPlacement, 'span' | 'called'>): string {
  const { chord } = phrase.spans[span]!;
  return chord === null ? formatFigure(called) : copyable(chord, called);
}

/** The same within a sentence: `natural 11` over G7alt, `major 7` over G7. The sign for a natural is for who types a figure. */
export function saidFigure(reading: Pick<Reading, 'phrase'>, placement: Pick<ChordPlacement, 'span' | 'called'>): string {
  return spokenFigure(shownFigure(reading, placement));
}

/** `natural 11` for `n11`, `major 7` for `n7`; any other figure as it is. */
export function spokenFigure(figure: string): string {
  return figure.replace(/^n([37])$/, 'major $1').replace(/^n/, 'natural ');
}

/** The chord's own tone where a note is another third, fifth or seventh: F for F-sharp over Dm7. Null for any other note, and for a blue one. */
export function ownInstead(
  { phrase }: Pick<Reading, 'phrase'>,
  { span, called, role, blue }: Pick<ChordPlacement, 'span' | 'called' | 'role' | 'blue'>,
): NoteName | null {
  if (role === 'chord-tone' || blue !== null || ![3, 5, 7].includes(called.number)) return null;
  return phrase.spans[span]!.chord?.tones.find(({ figure }) => figure.number === called.number)?.name ?? null;
}

/** Whether a note is spelled as none of its figures would be: A-sharp as the b9 of A7. */
export function isWrittenStrangely(
  { phrase }: Pick<Reading, 'phrase'>,
  note: number,
  { span, called }: Pick<ChordPlacement, 'span' | 'called'>,
): boolean {
  const { chord } = phrase.spans[span]!;
  return chord !== null && isSpelledStrangely(chord, phrase.notes[note]!.pitch, called);
}
