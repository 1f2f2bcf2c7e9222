import { isJoined } from '../../analysis/vocabulary';
import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { offerPlan } from '../writing/offer-plan';
import type { NewSlot } from '../writing/plan';
import { soundTarget } from './lead-in';

export const suspension: Assist = {
  id: 'suspension',
  kind: 'refactor.rewrite.suspension',
  what: 'Holds the note before over the change of chord and lets it move by step to its target half a beat late.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    const { phrase } = context.reading;
    const group = phrase.groups[target.group]!;
    const before = phrase.notes[target.note.index - 1];
    if (before === undefined || group.slots.length !== 1 || !isJoined(before, target.note)) return [];
    const size = before.midi - target.note.midi;
    const beats = Number(group.beats.valueOf());
    if (Math.abs(size) < 1 || Math.abs(size) > 2 || !Number.isInteger(beats)) return [];
    const kind = size > 0 ? 'suspension' : 'retardation';
    const slots: NewSlot[] = [
      { kind: 'hold' },
      { kind: 'keep', note: target.note.index },
      ...Array<NewSlot>(2 * beats - 2).fill({ kind: 'hold' }),
    ];
    const names = [before.pitch, target.pitch].map(formatNoteName);
    const title = `${kind === 'suspension' ? 'Suspend' : 'Hold back'} ${names[1]}: ${names[0]} is held over the change, then ${kind === 'suspension' ? 'falls' : 'rises'} to ${names[1]}`;
    return offerPlan(
      context,
      new Map([[target.group, slots]]),
      title,
      { repaired: null, repairs: null, preferred: false, device: { kind, at: target.note.onset.add(group.duration.div(2 * beats)) } },
      { device: kind, each: 'Hold the note before over each target' },
    );
  },
};
