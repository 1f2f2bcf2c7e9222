import { isRoman, readRoman } from '../../theory/roman';
import type { Assist } from '../assist';
import { chordsOf } from '../writing/changes-text';
import { rowHere } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const numeralsInChords: Assist = {
  id: 'numerals-in-chords',
  kind: 'refactor.rewrite.chords',
  what: 'Writes Roman numerals as chord symbols in the phrase’s key.',
  offers(context) {
    const row = rowHere(context, 'over');
    const { key } = context.reading.phrase;
    if (row === null || key === null) return [];
    const edits = chordsOf(row).flatMap(({ symbol }) => {
      const read = isRoman(symbol.text) ? readRoman(symbol.text, key) : null;
      return read !== null && 'tones' in read ? [{ range: symbol.range, text: read.symbol }] : [];
    });
    return sameSound(context, edits, 'Write the numerals as chord symbols');
  },
};
