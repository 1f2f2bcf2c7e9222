import { rowWord } from '../../../grammar/rows';
import type { Phrase } from './types';

/** Whether an error at an offset of a phrase's slice may cost it notes or chords: not in its title, nor in a row such as claim or degrees. */
export function breaksMusic({ item: { title, rows } }: Phrase, at: number): boolean {
  if (title !== null && at >= title.range.start && at <= title.range.end) return false;
  const row = rows.find(({ range }) => at >= range.start && at <= range.end);
  return row === undefined || rowWord(row.kind)?.changesMusic !== false;
}
