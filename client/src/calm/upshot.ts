/** What the editor and the server are told of an event, by what was remembered before it and after it. */
import { pensOf, samePlaces, type Calm, type CalmEvent } from './calm';
import type { Found } from './moving';

/** Whether other findings are to be shown than before, so that they are asked for: those of a bar that was left, or fewer wait. */
export function showsOthers(before: Calm<Found>, after: Calm<Found>): boolean {
  if (after.report === null) return before.report !== null;
  return after.waiting.length < before.waiting.length;
}

/** The places of last bars of rows that are being written, which the server is told; null where it knows them. */
export function pensToTell(before: Calm<Found>, kind: CalmEvent<Found>['kind'], after: Calm<Found>): readonly number[] | null {
  const pens = pensOf(after);
  // An edit makes a version of its own, for which it is told anew.
  return !samePlaces(pens, pensOf(before)) || (pens.length > 0 && kind === 'edit') ? pens : null;
}
