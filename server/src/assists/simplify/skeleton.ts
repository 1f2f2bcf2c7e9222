import type { Assist } from '../assist';
import { lineText } from '../writing/kept-bars';
import { isAtTitle } from '../writing/phrase-title';
import { rowAtKeyword } from '../writing/row-keyword';
import { isWhole, replacing } from '../writing/whole-phrase';
import { others, skeletonNotes, without } from './reduction';

export const skeleton: Assist = {
  id: 'skeleton',
  kind: 'refactor.rewrite.skeleton',
  what: 'Strips a line to its skeleton: the chord tones on strong beats, held.',
  offers(context) {
    const { reading } = context;
    if ((!isAtTitle(context) && rowAtKeyword(context, 'line') === null) || !isWhole(reading.phrase) || reading.phrase.spans.length === 0)
      return [];
    const kept = skeletonNotes(reading);
    if (kept.size === 0 || kept.size === reading.phrase.notes.length) return [];
    return replacing(
      context,
      lineText(context, without(reading, others(reading, kept))),
      `Strip the line to its skeleton: ${kept.size} of ${reading.phrase.notes.length} notes`,
    );
  },
};
