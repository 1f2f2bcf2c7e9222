/** Reading what the editor has kept, or a page has sent: nothing of it is taken on trust. */

/** Its entries; none where it is no object. */
export function asRecord(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}

/** The words of a list, each once, in the order of those there are; none where it is no list. */
export function listed<T extends string>(value: unknown, words: readonly T[]): T[] {
  return Array.isArray(value) ? words.filter((word) => (value as readonly unknown[]).includes(word)) : [];
}
