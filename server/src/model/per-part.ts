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
    const { head, tail } = unchanged(kept?.parts ?? [], parts);
    const fresh = parts.slice(head, parts.length - tail).map((part) => make(part, key));
    const values = kept === null ? fresh : kept.values.slice(0, head).concat(fresh, kept.values.slice(kept.values.length - tail));
    memory.set(lineage, { parts, key, values });
    return values;
  };
  const missing = (snapshot: Parts, key: K): readonly Part[] => {
    const { parts } = snapshot;
    const { head, tail } = unchanged(before(snapshot, key)?.parts ?? [], parts);
    return parts.slice(head, parts.length - tail);
  };
  return Object.assign(all, { missing });
}

/** How many parts from the start, and from the end, are those that were there: an edit leaves most of them in order. */
function unchanged(old: readonly Part[], parts: readonly Part[]): { readonly head: number; readonly tail: number } {
  const most = Math.min(old.length, parts.length);
  let head = 0;
  while (head < most && old[head] === parts[head]) head += 1;
  let tail = 0;
  while (tail < most - head && old[old.length - 1 - tail] === parts[parts.length - 1 - tail]) tail += 1;
  return { head, tail };
}
