import { ownInstead } from '../../analysis/shown-figure';
import type { PlacedGroup } from '../../model/types';
import { goalOf } from '../../rules/clash-facts';
import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist, AssistContext } from '../assist';
import { flaggedNote, type Flagged } from '../writing/flagged';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, slotsAsWritten, type NewSlot, type Plan } from '../writing/plan';
import { valueWords, withChanges } from '../writing/value-words';

export const offTheBeat: Assist = {
  id: 'off-the-beat',
  kind: 'quickfix',
  what: 'Moves a flagged note off the beat, half a beat later or earlier. Where it would be too long there, it goes on to the chord tone that it leans on.',
  offers(context) {
    const flagged = flaggedNote(context);
    if (flagged === null || flagged.slot !== 0) return [];
    const sounding = flagged.read.soundings[flagged.read.verdict!.sounding]!;
    // Another third, fifth or seventh than the chord's is no more right beside the beat.
    if (ownInstead(context.reading, sounding.placement) !== null) return [];
    const goal = goalOf(context.reading, flagged.read, sounding);
    for (const { plan, title } of [...later(context, flagged, goal), ...earlier(context, flagged, goal)]) {
      const offers = offerPlan(context, plan, title, { repaired: flagged.note.index, repairs: flagged.rule, preferred: false });
      if (offers.length > 0) return offers;
    }
    return [];
  },
};

/** A way to move the note, not yet proved. */
interface Move {
  readonly plan: Plan;
  readonly title: string;
}

/** Half a beat later: the note before is held through, or a rest comes first. As long as it was, if it passes so, else led on. */
function later(context: AssistContext, flagged: Flagged, goal: Pitch | null): Move[] {
  const { phrase } = context.reading;
  const group = phrase.groups[flagged.group]!;
  const before = phrase.groups[flagged.group - 1];
  const canHold = before !== undefined && before.slots[before.slots.length - 1]?.note != null;
  const fillings: ('hold' | 'rest')[] = canHold ? ['hold', 'rest'] : ['rest'];
  const name = formatNoteName(flagged.note.pitch);
  const move = (filling: 'hold' | 'rest', plan: Plan | null, end: string): Move[] =>
    plan === null
      ? []
      : [
          {
            plan,
            title: withChanges(
              `Play ${name} half a beat later, ${filling === 'hold' ? 'holding the note before' : 'after a rest'}${end}`,
              valueWords(group, plan.get(flagged.group)!.length),
            ),
          },
        ];
  const goesOn = goal === null ? '' : `, and let it ${midi(goal) < flagged.note.midi ? 'fall' : 'rise'} to ${formatNoteName(goal)}`;
  return [
    ...fillings.flatMap((filling) => move(filling, asLong(flagged, group, filling), '')),
    ...(goal === null
      ? []
      : fillings.flatMap((filling) => move(filling, ledOn(context, flagged, filling, { kind: 'pitch', pitch: goal, like: null }), goesOn))),
  ];
}

/** The group with half a beat of something else first; null where its slots do not divide so. */
function asLong({ group: index }: Flagged, group: PlacedGroup, filling: 'hold' | 'rest'): Plan | null {
  const slots = slotsAsWritten(group);
  const beats = Number(group.beats.valueOf());
  if (!Number.isInteger(beats)) return null;
  if (slots.length === 1) return new Map([[index, [{ kind: filling }, ...slots, ...Array<NewSlot>(2 * beats - 2).fill({ kind: 'hold' })]]]);
  return beats === 1 && slots.length === 2 ? new Map([[index, [{ kind: filling }, { kind: filling }, ...slots]]]) : null;
}

/** The note takes the second half of its first beat; what it holds of the next beat is the chord tone's. */
function ledOn({ reading: { phrase } }: AssistContext, { group: index }: Flagged, filling: 'hold' | 'rest', goal: NewSlot): Plan | null {
  const group = phrase.groups[index]!;
  const beats = Number(group.beats.valueOf());
  if (!Number.isInteger(beats) || group.slots.length !== 1) return null;
  const first: NewSlot[] = [{ kind: filling }, ...slotsAsWritten(group)];
  if (beats > 1) return new Map([[index, [...first, goal, ...Array<NewSlot>(2 * beats - 3).fill({ kind: 'hold' })]]]);
  const next = phrase.groups[index + 1];
  return next?.slots[0]?.kind === 'hold'
    ? new Map([
        [index, first],
        [index + 1, [goal, ...slotsAsWritten(next).slice(1)]],
      ])
    : null;
}

/** Half a beat earlier: what stands before gives up its second half, and the note is held into the beat, or the chord tone comes on it. */
function earlier(context: AssistContext, flagged: Flagged, goal: Pitch | null): Move[] {
  const { phrase } = context.reading;
  const group = phrase.groups[flagged.group]!;
  const before = phrase.groups[flagged.group - 1];
  if (before === undefined || !isRewritable(phrase, before) || !before.beats.equals(1) || before.slots.length > 2) return [];
  const moved: NewSlot = { kind: 'pitch', pitch: flagged.note.pitch, like: flagged.note };
  const own = slotsAsWritten(before);
  const rest = slotsAsWritten(group).slice(1);
  const title = `Play ${formatNoteName(flagged.note.pitch)} half a beat earlier`;
  const to = (slots: readonly NewSlot[]): Plan =>
    new Map([
      [flagged.group - 1, [own[0]!, moved]],
      [flagged.group, slots],
    ]);
  const held =
    own.length === 1
      ? to([{ kind: 'hold' }, ...rest])
      : new Map([
          [flagged.group - 1, [...own, moved, { kind: 'hold' } as const]],
          [flagged.group, [{ kind: 'hold' } as const, ...rest]],
        ]);
  return [
    { plan: held, title: withChanges(title, valueWords(before, held.get(flagged.group - 1)!.length)) },
    ...(goal === null
      ? []
      : [
          {
            plan: to([{ kind: 'pitch', pitch: goal, like: null }, ...rest]),
            title: `${title}${own.length === 2 ? inPlaceOf(context, before) : ''}, and let it ${midi(goal) < flagged.note.midi ? 'fall' : 'rise'} to ${formatNoteName(goal)}`,
          },
        ]),
  ];
}

/** What the note before the beat gives way to is told, where it is a note. */
function inPlaceOf({ reading: { phrase } }: AssistContext, { slots }: PlacedGroup): string {
  const gone = slots[1]?.kind === 'note' ? slots[1].note : null;
  return gone === null ? '' : `, in place of ${formatNoteName(phrase.notes[gone]!.pitch)}`;
}
