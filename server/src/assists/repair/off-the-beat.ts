import type { PlacedGroup } from '../../model/types';
import { formatNoteName } from '../../theory/pitch';
import type { Assist, AssistContext, Offer } from '../assist';
import { flaggedNote, type Flagged } from '../writing/flagged';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, slotsAsWritten, type NewSlot } from '../writing/plan';

export const offTheBeat: Assist = {
  id: 'off-the-beat',
  kind: 'quickfix',
  what: 'Moves a flagged note off the beat: half a beat later, or half a beat earlier.',
  offers(context) {
    const flagged = flaggedNote(context);
    if (flagged === null || flagged.slot !== 0) return [];
    return [...later(context, flagged), ...earlier(context, flagged)].slice(0, 1);
  },
};

/** Half a beat later: the note before is held through, or a rest comes first. */
function later(context: AssistContext, flagged: Flagged): Offer[] {
  const { phrase } = context.reading;
  const group = phrase.groups[flagged.group]!;
  const before = phrase.groups[flagged.group - 1];
  const canHold = before !== undefined && before.slots[before.slots.length - 1]?.note != null;
  const fillings: NewSlot['kind'][] = canHold ? ['hold', 'rest'] : ['rest'];
  for (const kind of fillings) {
    const slots = delayed(group, { kind } as NewSlot);
    if (slots === null) continue;
    const title = `Play ${formatNoteName(flagged.note.pitch)} half a beat later, ${kind === 'hold' ? 'holding the note before' : 'after a rest'}`;
    const offers = offerPlan(context, new Map([[flagged.group, slots]]), title, { repaired: flagged.note.index, repairs: flagged.rule, preferred: false });
    if (offers.length > 0) return offers;
  }
  return [];
}

/** The group with half a beat of something else first; null where its slots do not divide so. */
function delayed(group: PlacedGroup, filling: NewSlot): NewSlot[] | null {
  const slots = slotsAsWritten(group);
  const beats = Number(group.beats.valueOf());
  if (!Number.isInteger(beats)) return null;
  if (slots.length === 1) return [filling, ...slots, ...Array<NewSlot>(2 * beats - 2).fill({ kind: 'hold' })];
  return beats === 1 && slots.length === 2 ? [filling, { kind: filling.kind === 'rest' ? 'rest' : 'hold' }, ...slots] : null;
}

/** Half a beat earlier: what stands before gives up its second half, and the note is held into the beat. */
function earlier(context: AssistContext, flagged: Flagged): Offer[] {
  const { phrase } = context.reading;
  const group = phrase.groups[flagged.group]!;
  const before = phrase.groups[flagged.group - 1];
  if (before === undefined || !isRewritable(phrase, before) || !before.beats.equals(1) || before.slots.length > 2) return [];
  const moved: NewSlot = { kind: 'pitch', pitch: flagged.note.pitch, like: flagged.note };
  const own = slotsAsWritten(before);
  const fresh = own.length === 1 ? [...own, moved] : [...own, moved, { kind: 'hold' } as const];
  const slots: NewSlot[] = [{ kind: 'hold' }, ...slotsAsWritten(group).slice(1)];
  const title = `Play ${formatNoteName(flagged.note.pitch)} half a beat earlier`;
  return offerPlan(context, new Map([[flagged.group - 1, fresh], [flagged.group, slots]]), title, { repaired: flagged.note.index, repairs: flagged.rule, preferred: false });
}
