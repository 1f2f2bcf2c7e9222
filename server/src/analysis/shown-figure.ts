/** The figure that is shown for a note: one that a writer can copy into a `degrees` row, or into the line. */
import { copyable, formatFigure } from '../theory/figure';
import type { Reading, ChordPlacement } from './types';

/** `b3`, `#11`; `n7` for a major seventh over G7. */
export function shownFigure({ phrase }: Pick<Reading, 'phrase'>, { span, figure }: Pick<ChordPlacement, 'span' | 'figure'>): string {
  const { chord } = phrase.spans[span]!;
  return chord === null ? formatFigure(figure) : copyable(chord, figure);
}
