/** What stands above each phrase: what can be done with it, and the phrase in one line. */
import { readPhrase } from '../analysis/read';
import { oneLine } from '../explain/one-line';
import type { Snapshot } from '../model/snapshot';
import type { Settings } from './options';

export interface CodeLens {
  /** The title of the phrase, or its keyword where it has none. */
  readonly start: number;
  readonly end: number;
  readonly title: string;
  readonly action: 'play' | 'show' | 'explain';
  /** Offset of the phrase’s keyword: what an action is done with is the phrase that stands there. */
  readonly keyword: number;
}

/** None above a phrase without a note: there is nothing to hear, to see or to sum up. */
export function codeLenses({ slices, phrases }: Snapshot, { codeLenses, theory }: Settings): readonly CodeLens[] {
  if (!codeLenses) return [];
  const parsed = new Map(slices.map((slice) => [slice.start, slice.parsed]));
  return phrases.filter(({ phrase }) => phrase.notes.length > 0).flatMap(({ start, phrase }): CodeLens[] => {
    const { title, keyword } = phrase.item;
    const { range } = title ?? keyword;
    const place = { start: start + range.start, end: start + range.end, keyword: start + keyword.range.start };
    return [
      { ...place, title: 'Play', action: 'play' },
      { ...place, title: 'Show the score', action: 'show' },
      { ...place, title: oneLine(readPhrase(phrase, theory), parsed.get(start)?.problems ?? []), action: 'explain' },
    ];
  });
}
