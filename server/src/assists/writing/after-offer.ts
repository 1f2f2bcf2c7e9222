import { applyEdits } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import { readPhrase } from '../../analysis/read';
import { buildPhrase } from '../../model/build';
import { editsOfOffer, type AssistContext, type Offer } from '../assist';
import { sorted } from './whole-phrase';

/** The context with the offer's edits made; notes before them keep their numbers. */
export function afterOffer(context: AssistContext, offer: Offer): AssistContext {
  const slice = parseSlice(applyEdits(context.placed.phrase.text, sorted(editsOfOffer(offer))));
  if (slice.item.kind !== 'phrase') return context;
  const { phrase } = buildPhrase(slice, slice.item, context.snapshot.definitions);
  return { ...context, placed: { start: context.placed.start, phrase }, reading: readPhrase(phrase, context.options) };
}
