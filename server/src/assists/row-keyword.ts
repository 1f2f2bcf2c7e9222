import type { Row } from '../../../grammar/tree';
import type { AssistContext } from './assist';
import { contains } from './selection';

/** The row of a kind whose keyword the cursor is on; null where it is not on one. */
export function rowAtKeyword<K extends Row['kind']>({ placed: { phrase }, selection }: AssistContext, kind: K): Extract<Row, { kind: K }> | null {
  const found = phrase.item.rows.find((row): row is Extract<Row, { kind: K }> => row.kind === kind && contains(row.keyword.range, selection.start));
  return found ?? null;
}
