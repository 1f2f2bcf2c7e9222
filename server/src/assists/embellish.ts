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

/** Offers some notes just before a target, if the analysis then finds the device. */
export function leadInto(context: AssistContext, target: Target, notes: readonly Pitch[], kind: DeviceKind, title: string): Offer[] {
  const { phrase } = context.reading;
  const before = phrase.groups[target.group - 1];
  if (before === undefined || !isRewritable(phrase, before)) return [];
  const room = makeRoom(before, notes);
  if (room === null) return [];
  const plan = new Map([[target.group - 1, room], [target.group, slotsAsWritten(phrase.groups[target.group]!)]]);
  return offerPlan(context, plan, title, { repaired: null, repairs: null, preferred: false, device: { kind, at: target.note.onset } });
}
