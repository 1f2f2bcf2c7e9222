/** What is worked out of each part of a document once, and kept from version to version. */
import type { Part, Snapshot } from './snapshot';

interface Kept<T, K> {
  readonly parts: readonly Part[];
  readonly key: K;
  readonly values: readonly T[];
}

/**
 * Makes of a function of a part one of a snapshot: a value for each part, in their order. Only parts that are new since it was last asked of the same
 * lineage are worked out. `key` is what the values depend on besides; where `isSame` denies that it is what it was, all are worked out anew.
 */
export function perPart<T, K>(make: (part: Part, key: K) => T, isSame: (a: K, b: K) => boolean): (snapshot: Pick<Snapshot, 'parts' | 'lineage'>, key: K) => readonly T[] {
  const memory = new WeakMap<object, Kept<T, K>>();
  return ({ parts, lineage }, key) => {
    const known = memory.get(lineage);
    const before = known !== undefined && isSame(known.key, key) ? known : undefined;
    if (before?.parts === parts) return before.values;
    const values = before === undefined ? parts.map((part) => make(part, key)) : takenOver(before, parts, (part) => make(part, key));
    memory.set(lineage, { parts, key, values });
    return values;
  };
}

/** Parts are found again by their place from the start, or from the end: an edit leaves most of them in order. */
function takenOver<T, K>(before: Kept<T, K>, parts: readonly Part[], make: (part: Part) => T): T[] {
  const by = before.parts.length - parts.length;
  return parts.map((part, i) => {
    if (before.parts[i] === part) return before.values[i]!;
    return before.parts[i + by] === part ? before.values[i + by]! : make(part);
  });
}
