import type { Reading } from './types';

/** What is worked out of a reading once, and asked for again and again. */
export function ofReading<T>(work: (reading: Reading) => T): (reading: Reading) => T {
  const known = new WeakMap<Reading, { readonly value: T }>();
  return (reading) => {
    const found = known.get(reading);
    if (found !== undefined) return found.value;
    const value = work(reading);
    known.set(reading, { value });
    return value;
  };
}
