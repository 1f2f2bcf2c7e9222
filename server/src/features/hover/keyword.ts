/** The hover of a row's first word: what the row means. */
import { rowWord } from '../../../../grammar/rows';

/** What a row means, in one sentence of Markdown; null for a word that is no keyword. */
export function keywordMeaning(word: string): string | null {
  return rowWord(word)?.meaning ?? null;
}

export function keywordHover(word: string): string | null {
  const meaning = keywordMeaning(word);
  return meaning === null ? null : `**${word}**: ${meaning}`;
}
