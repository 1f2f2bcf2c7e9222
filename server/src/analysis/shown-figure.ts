/** The figure that is shown for a note: one that a writer can copy into a `degrees` row, or into the line. */
import { copyable, formatFigure } from '../theory/figure';
import type { Reading, Standing } from './types';

/** `b3`, `#11`; `n7` for a major seventh over G7. */
export function shownFigure({ phrase }: Pick<Reading, 'phrase'>, { span, figure }: Pick<Standing, 'span' | 'figure'>): string {
  const { chord } = phrase.spans[span]!;
  return chord === null ? formatFigure(figure) : copyable(chord, figure);
}
