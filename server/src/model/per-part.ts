/** What is worked out of each part of a document once, and kept from version to version. */
import type { Part, Snapshot } from './snapshot';

type Parts = Pick<Snapshot, 'parts' | 'lineage'>;

export interface PerPart<T, K> {
  /** A value for each part, in their order. */
  (snapshot: Parts, key: K): readonly T[];
  /** The parts that would have to be worked out. */
  missing(snapshot: Parts, key: K): readonly Part[];
}

interface Kept<T, K> {
  readonly parts: readonly Part[];
  readonly key: K;
  readonly values: readonly T[];
}

/**
 * Makes of a function of a part one of a snapshot. Only parts that are new since it was last asked of the same lineage are worked out. `key` is what the
 * values depend on besides; where `isSame` denies that it is what it was, all are worked out anew.
 */
export function perPart<T, K>(make: (part: Part, key: K) => T, isSame: (a: K, b: K) => boolean): PerPart<T, K> {
  const memory = new WeakMap<object, Kept<T, K>>();
  const before = ({ lineage }: Parts, key: K): Kept<T, K> | null => {
    const known = memory.get(lineage);
    return known !== undefined && isSame(known.key, key) ? known : null;
  };
  const all = (snapshot: Parts, key: K): readonly T[] => {
    const { parts, lineage } = snapshot;
    const kept = before(snapshot, key);
    if (kept?.parts === parts) return kept.values;
    const place = placeIn(kept?.parts ?? [], parts);
    const values = parts.map((part, i) => {
      const known = place(i);
      return known === null ? make(part, key) : kept!.values[known]!;
    });
    memory.set(lineage, { parts, key, values });
    return values;
  };
  const missing = (snapshot: Parts, key: K): readonly Part[] => {
    const place = placeIn(before(snapshot, key)?.parts ?? [], snapshot.parts);
    return snapshot.parts.filter((_, i) => place(i) === null);
  };
  return Object.assign(all, { missing });
}

/** Where a part stood before: at the same place from the start, or from the end, for an edit leaves most of them in order; null where it is new. */
function placeIn(old: readonly Part[], parts: readonly Part[]): (index: number) => number | null {
  const by = old.length - parts.length;
  return (index) => (old[index] === parts[index] ? index : old[index + by] === parts[index] ? index + by : null);
}
