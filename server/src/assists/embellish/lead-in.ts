/** What embellishments that lead into a target share: they take the end of the group before it. */
import type { DeviceKind } from '../../analysis/devices/device';
import { deviceName } from '../../explain/device-words';
import { midi } from '../../theory/pitch';
import type { PlacedGroup } from '../../model/types';
import type { Pitch } from '../../theory/types';
import type { AssistContext, Offer } from '../assist';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, slotsAsWritten } from '../writing/plan';
import { withChanges } from '../writing/value-words';
import { makeRoom, plainFirst, type Room } from './room';
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
  /** `from below, chromatic`; none where there is one form. */
  readonly how?: string;
  /** What to call doing the same to each target of a selection. */
  readonly each: string;
}

/** Whether those very notes lead into the target already: to write them a second time plants nothing. */
export function leadsAlready({ reading: { phrase } }: AssistContext, { note }: Target, notes: readonly Pitch[]): boolean {
  const before = phrase.notes.slice(Math.max(0, note.index - notes.length), note.index);
  return before.map((one) => one.midi).join() === notes.map(midi).join();
}

/** Offers some notes just before a target, or some others: once for each place their time may come from, first what keeps the eighths. */
export function leadInto(context: AssistContext, target: Target, leads: readonly Lead[]): Offer[] {
  const { phrase } = context.reading;
  const before = phrase.groups[target.group - 1];
  if (before === undefined || !isRewritable(phrase, before)) return [];
  const forms = leads
    .filter(({ notes }) => !leadsAlready(context, target, notes))
    .flatMap((lead) => roomsFor(context, before, lead.notes).map((room) => ({ lead, room })));
  return plainFirst(forms, ({ room }) => room.isPlain).flatMap(({ lead: { device, title, how = '', each }, room }) => {
    const plan = new Map([
      [target.group - 1, room.slots],
      [target.group, slotsAsWritten(phrase.groups[target.group]!)],
    ]);
    const wanted = {
      repaired: null,
      repairs: null,
      preferred: false,
      ...(device === null ? {} : { device: { kind: device, at: target.note.onset } }),
    };
    return offerPlan(context, plan, withChanges(title, room.changes), wanted, {
      ...formIn(room, how, each),
      ...(device === null ? {} : { device: deviceName(device) }),
    });
  });
}

/** The rooms before a target. The first note of a beat may be a target itself, where there are several: it stays then. */
export function roomsFor({ reading, selected }: AssistContext, before: PlacedGroup, notes: readonly Pitch[]): Room[] {
  return makeRoom(before, notes, reading.phrase.notes).filter(({ isWhole }) => !isWhole || selected.length < 2);
}

/** How a form that takes a room is told from others. */
export function formIn({ from, isWhole }: Room, how: string, each: string): Pick<Offer, 'detail' | 'each'> {
  return { detail: [how, from].filter((words) => words !== '').join(', '), ...(isWhole ? {} : { each }) };
}
