/** What tells the phrases of a page apart from one score to the next. */
import type { ScorePhrase } from '../../src/score/messages';

/** Document, name, and how many of that name. */
export function keysOf(uri: string, phrases: readonly Pick<ScorePhrase, 'name'>[]): string[] {
  const names = new Map<string, number>();
  return phrases.map(({ name }) => {
    const count = (names.get(name) ?? 0) + 1;
    names.set(name, count);
    return `${uri} ${count} ${name}`;
  });
}

/** What was about a phrase of before, about the same phrase where it stands now; null where it is gone. */
export function movedTo<T extends { readonly phrase: number }>(
  about: T | null,
  before: readonly object[],
  now: readonly object[],
): T | null {
  if (about === null) return null;
  const one = before[about.phrase];
  const phrase = one === undefined ? -1 : now.indexOf(one);
  return phrase < 0 ? null : { ...about, phrase };
}
