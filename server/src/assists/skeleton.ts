import type { Reading } from '../analysis/types';
import type { Assist } from './assist';
import { isAtTitle } from './phrase-title';
import { others, skeletonNotes, without } from './reduction';
import { rowAtKeyword } from './row-keyword';
import { measuresOf, writeMeasures, type Sound } from './score';
import { barEdits, isWhole, replacing, rewritten } from './whole-phrase';
import type { AssistContext } from './assist';

export const skeleton: Assist = {
  id: 'skeleton',
  kind: 'refactor.rewrite.skeleton',
  what: 'Strips a line to its skeleton: the chord tones on strong beats, held.',
  offers(context) {
    const { reading } = context;
    if ((!isAtTitle(context) && rowAtKeyword(context, 'line') === null) || !isWhole(reading.phrase) || reading.phrase.spans.length === 0) return [];
    const kept = skeletonNotes(reading);
    if (kept.size === 0 || kept.size === reading.phrase.notes.length) return [];
    return replacing(context, lineText(context, without(reading, others(reading, kept))), `Strip the line to its skeleton: ${kept.size} of ${reading.phrase.notes.length} notes`);
  },
};

/** The phrase with another line over the same chords; null where that cannot be written. */
export function lineText(context: Pick<AssistContext, 'reading' | 'snapshot' | 'options' | 'placed'> & AssistContext, sounds: readonly Sound[]): string | null {
  const { phrase }: Reading = context.reading;
  const texts = writeMeasures({ phrase, measures: measuresOf(phrase), spans: phrase.spans }, sounds);
  return texts === null ? null : rewritten(context, barEdits(phrase, texts));
}
