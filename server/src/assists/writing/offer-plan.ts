/** New slots for groups as an offer of the menu, proved. */
import { tried, type AssistContext, type Offer } from '../assist';
import { editsOf, type NewSlot } from './plan';
import { verified, type Wanted } from './verified';

/** A plan as an offer, if it proves sound. */
export function offerPlan(
  context: AssistContext,
  plan: ReadonlyMap<number, readonly NewSlot[]>,
  title: string,
  kind: OfferKind,
  form: Form = {},
): Offer[] {
  return tried(context, { ...form, repairs: kind.repairs }, () => {
    const edits = editsOf(context.reading.phrase, plan);
    if (edits === null) return [];
    const sound = verified(context, edits, {
      repaired: kind.repaired,
      groups: [...plan.keys()],
      ...(kind.device === undefined ? {} : { device: kind.device }),
    });
    return sound === null ? [] : [{ title, ...form, edits: sound, repairs: kind.repairs, preferred: kind.preferred }];
  });
}

export interface OfferKind {
  /** The note whose finding must be gone. */
  readonly repaired: number | null;
  /** The rule of that finding. */
  readonly repairs: string | null;
  readonly preferred: boolean;
  /** What the analysis must find in the result. */
  readonly device?: Wanted['device'];
}

/** How an offer is told from other forms. */
export type Form = Pick<Offer, 'detail' | 'device' | 'shape' | 'each'>;
