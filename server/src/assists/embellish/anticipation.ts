import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, slotsAsWritten, type NewSlot } from '../writing/plan';
import { withChanges } from '../writing/value-words';
import { soundTarget } from './lead-in';
import { replacedWords } from './room';

export const anticipation: Assist = {
  id: 'anticipation',
  kind: 'refactor.rewrite.anticipation',
  what: 'Sounds a chord tone half a beat before its chord and holds it over the change.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    const { phrase } = context.reading;
    const before = phrase.groups[target.group - 1];
    const changes = phrase.spans.some((span) => span.onset.equals(target.note.onset));
    if (before === undefined || !changes || !isRewritable(phrase, before) || !before.beats.equals(1) || before.slots.length > 2) return [];
    const early: NewSlot = { kind: 'pitch', pitch: target.pitch, like: target.note };
    const own = slotsAsWritten(before);
    const given = before.slots.length === 2 ? before.slots[1]! : null;
    const name = formatNoteName(target.pitch);
    const replaced =
      given?.kind === 'note' && given.note !== null ? replacedWords([{ old: phrase.notes[given.note]!.pitch, fresh: target.pitch }]) : '';
    const plan = new Map<number, readonly NewSlot[]>([
      [target.group - 1, [own[0]!, early]],
      [target.group, [{ kind: 'hold' }, ...slotsAsWritten(phrase.groups[target.group]!).slice(1)]],
    ]);
    const at = before.onset.add(before.duration.div(2));
    return offerPlan(
      context,
      plan,
      withChanges(`Anticipate ${name}: half a beat early, held over the change`, replaced),
      { repaired: null, repairs: null, preferred: false, device: { kind: 'anticipation', at } },
      { each: 'Anticipate each target' },
    );
  },
};
