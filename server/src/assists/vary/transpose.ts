import { homeKey, otherTonics } from '../../analysis/keys';
import type { Assist } from '../assist';
import { rowHere } from '../writing/row-keyword';
import { replacing } from '../writing/whole-phrase';
import { inKeyOf, keyWords } from './other-keys';

export const transpose: Assist = {
  id: 'transpose',
  kind: 'refactor.rewrite.transpose',
  what: 'Moves a phrase to another key: notes, chords, key and claims together. Offered at its `key` row; the command asks for the key anywhere.',
  offers(context) {
    const { reading } = context;
    const key = homeKey(reading);
    if (rowHere(context, 'key') === null && !context.asked) return [];
    if (key === null || reading.phrase.notes.length === 0) return [];
    return otherTonics(key, 'half-steps').flatMap((tonic) => {
      const text = inKeyOf(context, key, tonic);
      return replacing(context, text, `Transpose the phrase to ${keyWords(tonic, key)}`);
    });
  },
};
