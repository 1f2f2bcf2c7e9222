/** The walk-through of a phrase as `say` texts have it. */
import { barParagraphs, walkthrough } from '../../explain/walkthrough';
import type { Reading } from '../../analysis/types';
import { flaggedBy } from './flagged';

/** A paragraph a bar, without what is said against a note: that is for the writer, goes when it is mended, and the text would stay. A string holds straight quotes. */
export function barsTold(reading: Reading): string[] {
  const sound = walkthrough(reading).telling.filter(
    ({ kind, notes }) => kind === 'line' && notes.some((note) => flaggedBy(reading, note) === null),
  );
  return barParagraphs(sound).map((bar) => bar.replace(/[“”]/g, '"'));
}
