import type { Row } from '../../../../grammar/tree';
import type { AssistContext } from '../assist';
import { contains } from './selection';

/** The row of a kind whose keyword the cursor is on (or the first, if the action was asked for by name); null where it is not on one. */
export function rowAtKeyword<K extends Row['kind']>(
  { placed: { phrase }, selection, asked }: AssistContext,
  kind: K,
): Extract<Row, { kind: K }> | null {
  const own = phrase.item.rows.filter((row): row is Extract<Row, { kind: K }> => row.kind === kind);
  return own.find((row) => contains(row.keyword.range, selection.start)) ?? (asked ? (own[0] ?? null) : null);
}

/** The row of a kind that the cursor is anywhere in. */
export function rowHere<K extends Row['kind']>(
  { placed: { phrase }, selection, asked }: AssistContext,
  kind: K,
): Extract<Row, { kind: K }> | null {
  const own = phrase.item.rows.filter((row): row is Extract<Row, { kind: K }> => row.kind === kind);
  return (
    own.find((row) => contains({ start: row.keyword.range.start, end: row.range.end }, selection.start)) ??
    (asked ? (own[0] ?? null) : null)
  );
}
