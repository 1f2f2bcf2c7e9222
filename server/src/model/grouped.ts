/** Things by their keys, in one pass: a phrase may have thousands of bars. Each group keeps the order of the things. */
export function groupedBy<T, K>(things: Iterable<T>, keysOf: (thing: T) => Iterable<K>): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const thing of things) {
    for (const key of keysOf(thing)) {
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [thing]);
      else group.push(thing);
    }
  }
  return groups;
}
