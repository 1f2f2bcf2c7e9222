/** Where what plays stands among the phrases that are shown. */
import type { NotePlace, ScorePhrase } from '../../src/score/messages';
import type { ShownPhrases, Wish } from './state';

/** What tells the phrase that plays from others. */
export interface Played {
  readonly uri: string;
  readonly phrase: Pick<ScorePhrase, 'name' | 'musicXml'>;
}

/** Null where the phrase is not shown, or was changed since. */
export function indexOf({ uri, phrase: { name, musicXml } }: Played, shown: ShownPhrases): number | null {
  if (uri !== shown.uri) return null;
  const index = shown.phrases.findIndex((phrase) => phrase.name === name && phrase.musicXml === musicXml);
  return index < 0 ? null : index;
}

export function placeOf(wish: Wish, note: number, shown: ShownPhrases): NotePlace | null {
  const phrase = indexOf(wish, shown);
  return phrase === null ? null : { phrase, note };
}

/** Where the phrase stands that what plays was edited to; null where it was not, or half of it is written yet. */
export function editedIndex(played: Played, shown: ShownPhrases): number | null {
  if (played.uri !== shown.uri || indexOf(played, shown) !== null) return null;
  const index = shown.phrases.findIndex((phrase) => isEditOf(played, phrase));
  return index < 0 ? null : index;
}

/** Whether a phrase is what the one that plays was edited to, and can be played whole. */
export function isEditOf({ phrase: { name } }: Played, phrase: Pick<ScorePhrase, 'name' | 'broken' | 'unfinished'>): boolean {
  return phrase.name === name && phrase.broken === null && !phrase.unfinished;
}
