/** Random numbers that come again: the same seed gives the same sheet on every machine. */

export interface Random {
  /** From 0 up to, but not, a number above 0. */
  below(limit: number): number;
  /** The same items in another order. */
  shuffled<T>(items: readonly T[]): T[];
}

/** The generator known as mulberry32: 32 bits of state, which is plenty for choosing notes. */
export function randomOf(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (mixed ^ (mixed >>> 14)) >>> 0;
  };
  const below = (limit: number): number => Math.floor((next() / 2 ** 32) * limit);
  return {
    below,
    shuffled(items) {
      const left = [...items];
      return items.map(() => left.splice(below(left.length), 1)[0]!);
    },
  };
}
