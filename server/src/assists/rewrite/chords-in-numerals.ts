import type { ChordWord, TextEdit } from '../../../../grammar/tree';
import { plainSigns, readChord } from '../../theory/chord';
import { functionInKey } from '../../theory/key';
import { formatNoteName, sameName } from '../../theory/pitch';
import { isRoman, readRoman } from '../../theory/roman';
import type { Key } from '../../theory/types';
import type { Assist } from '../assist';
import { chordsOf } from '../writing/changes-text';
import { rowHere } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const chordsInNumerals: Assist = {
  id: 'chords-in-numerals',
  kind: 'refactor.rewrite.chords',
  what: 'Writes chord symbols as Roman numerals of the phrase’s key.',
  offers(context) {
    const row = rowHere(context, 'over');
    const { key } = context.reading.phrase;
    if (row === null || key === null) return [];
    return sameSound(
      context,
      chordsOf(row).flatMap((word) => asNumeral(word, key)),
      'Write the chords as Roman numerals',
    );
  },
};

/** A chord symbol as the numeral that reads back as the same chord; nothing where there is none. */
function asNumeral({ symbol }: ChordWord, key: Key): TextEdit[] {
  const chord = readChord(symbol.text);
  if (isRoman(symbol.text) || !('tones' in chord)) return [];
  const plain = plainSigns(symbol.text);
  const tail = plain.slice(/^[A-G][b#]?/.exec(plain)![0].length).replace(/\/[A-G][b#]?$/, '');
  const bass = chord.bass === null ? '' : `/${formatNoteName(chord.bass)}`;
  const numeral = functionInKey(chord, key);
  const candidates = [numeral + tail.replace(/^(?:min|mi|m|-)(?!a|b5|7b5)/, ''), numeral + tail];
  for (const candidate of candidates.map((text) => text + bass)) {
    const read = readRoman(candidate, key);
    const same =
      'tones' in read &&
      sameName(read.root, chord.root) &&
      read.tones.map((tone) => tone.interval).join() === chord.tones.map((tone) => tone.interval).join();
    if (same) return [{ range: symbol.range, text: candidate }];
  }
  return [];
}
