import { homeKey, otherTonics } from '../../analysis/keys';
import type { Assist, AssistContext, Offer } from '../assist';
import { copiesAfter } from '../writing/copies';
import { isAtTitle } from '../writing/phrase-title';
import { inKeyOf, movedToKeyOf, shortKey, titled } from './other-keys';

export const twelveKeys: Assist = {
  id: 'twelve-keys',
  kind: 'refactor.rewrite.twelve-keys',
  what: 'Copies a phrase to the other eleven keys, round the cycle of fifths or up by half steps, in octaves that suit its part.',
  offers: (context) => [...copies(context, 'cycle', 'round the cycle of fifths'), ...copies(context, 'half-steps', 'up by half steps')],
};

function copies(context: AssistContext, order: 'cycle' | 'half-steps', words: string): Offer[] {
  const { phrase } = context.reading;
  const key = homeKey(context.reading);
  if (!isAtTitle(context) || key === null || phrase.notes.length === 0) return [];
  const tonics = otherTonics(key, order);
  if (tonics.some((tonic) => movedToKeyOf(context, key, tonic) === null)) return [];
  const named = (): string[] => tonics.map((tonic) => titled(inKeyOf(context, key, tonic)!, shortKey(tonic, key)));
  return [
    {
      title: `Copy the phrase to the other eleven keys, ${words}: ${tonics.join(', ')}`,
      edits: () => copiesAfter(context, named()),
      repairs: null,
      preferred: false,
    },
  ];
}
