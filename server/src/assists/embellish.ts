/** What embellishments that lead into a target share: they take the end of the group before it. */
import type { DeviceKind } from '../analysis/devices/device';
import type { Pitch } from '../theory/types';
import type { AssistContext, Offer } from './assist';
import { offerPlan } from './flagged';
import { isRewritable, slotsAsWritten } from './rewrite';
import { makeRoom } from './room';
import { targetHere, type Target } from './target';

/** The target under the cursor, if nothing is wrong with it: repairs come first where something is. */
export function soundTarget(context: AssistContext): Target | null {
  const target = targetHere(context);
  return target !== null && target.rule === null ? target : null;
}

export interface Lead {
  readonly notes: readonly Pitch[];
  /** What the analysis must then find; null where there is no name for it. */
  readonly device: DeviceKind | null;
  readonly title: string;
  /** What to call doing the same to each target of a selection. */
  readonly each: string;
}

/** Offers some notes just before a target, once for each place their time may come from. */
export function leadInto(context: AssistContext, target: Target, { notes, device, title, each }: Lead): Offer[] {
  const { phrase } = context.reading;
  const before = phrase.groups[target.group - 1];
  if (before === undefined || !isRewritable(phrase, before)) return [];
  return makeRoom(before, notes, phrase.notes).flatMap(({ slots, from }) => {
    const plan = new Map([[target.group - 1, slots], [target.group, slotsAsWritten(phrase.groups[target.group]!)]]);
    const wanted = { repaired: null, repairs: null, preferred: false, ...(device === null ? {} : { device: { kind: device, at: target.note.onset } }) };
    return offerPlan(context, plan, `${title} (${from})`, wanted).map((offer) => ({ ...offer, each }));
  });
}
