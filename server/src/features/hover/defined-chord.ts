/** The hover of a chord inside a `changes` definition, where no phrase gives it a place: its tones alone. */
import type { ChordWord, Item } from '../../../../grammar/tree';
import { readChord } from '../../theory/chord';
import { isRoman } from '../../theory/roman';
import { contains } from '../place';
import { chordTones, codeWord } from './words';

/** The chord word at a place of a slice; null where none stands there. */
export function definedChordAt(item: Item, at: number): ChordWord | null {
  const definitions = item.kind === 'changes' ? [item] : item.kind === 'phrase' ? item.nested.filter((one) => one.kind === 'changes') : [];
  const shares = definitions.flatMap((one) => one.bars.flatMap((bar) => bar.shares));
  return shares.find((share): share is ChordWord => share.kind === 'chord' && contains(share.range, at)) ?? null;
}

export function definedChordHover({ symbol: { text } }: ChordWord): string {
  if (isRoman(text)) return `\`${text}\`: a numeral; it takes its root from the key of the phrase that uses these changes.`;
  const read = readChord(text);
  return 'tones' in read ? `**${read.symbol}**: ${chordTones(read)}.` : `${codeWord(text)} could not be read as a chord.`;
}
