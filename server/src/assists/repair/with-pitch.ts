/** What repairs by another pitch share. */
import { formatNoteName } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { AssistContext, Offer } from '../assist';
import type { Flagged } from '../writing/flagged';
import { offerPlan } from '../writing/offer-plan';
import { slotsAsWritten } from '../writing/plan';

/** Offers another pitch for a flagged note, if that mends it. */
export function withPitch(context: AssistContext, flagged: Flagged, pitch: Pitch, title: (name: string) => string): Offer[] {
  const { phrase } = context.reading;
  const slots = slotsAsWritten(phrase.groups[flagged.group]!);
  slots[flagged.slot] = { kind: 'pitch', pitch, like: flagged.note };
  return offerPlan(context, new Map([[flagged.group, slots]]), title(formatNoteName(pitch)), {
    repaired: flagged.note.index,
    repairs: flagged.rule,
    preferred: false,
  });
}
