import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { offerPlan } from '../writing/offer-plan';
import { shownNames, type NewSlot } from '../writing/plan';
import { valueWords, withChanges } from '../writing/value-words';
import { soundTarget } from './lead-in';
import type { Target } from './target';

export const ornament: Assist = {
  id: 'ornament',
  kind: 'refactor.rewrite.ornament',
  what: 'Plays a note of one beat as a mordent (with its neighbour, as a triplet) or as a turn (in sixteenths).',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    const group = target === null ? undefined : context.reading.phrase.groups[target.group]!;
    // A note that is held on beyond its group would lose its tie.
    if (target === null || group === undefined || group.slots.length !== 1 || !group.beats.equals(1) || target.note.holds.length > 0)
      return [];
    const upper = neighbour(target);
    const lower = leaningNote(target.pitch, 1, 'below');
    const main: NewSlot = { kind: 'keep', note: target.note.index };
    const again: NewSlot = { kind: 'pitch', pitch: target.pitch, like: null };
    const fresh = (pitch: Pitch): NewSlot => ({ kind: 'pitch', pitch, like: null });
    const name = formatNoteName(target.pitch);
    const [above, under] = shownNames(context.reading.phrase, [upper, lower], group);
    return [
      ...play(context, target, [main, fresh(upper), again], 'mordent', `Play ${name} as a mordent: ${name}-${above}-${name}`),
      ...play(
        context,
        target,
        [fresh(upper), main, fresh(lower), again],
        'turn',
        `Play ${name} as a turn: ${above}-${name}-${under}-${name}`,
      ),
    ];
  },
};

function neighbour({ pitch, scale }: Target): Pitch {
  const found = scale === null ? null : scaleNoteBeside(scale, midi(pitch), 'above');
  return found !== null && midi(found) - midi(pitch) <= 2 ? found : leaningNote(pitch, 2, 'above');
}

function play(context: AssistContext, target: Target, slots: readonly NewSlot[], kind: 'mordent' | 'turn', title: string): Offer[] {
  const wanted = { repaired: null, repairs: null, preferred: false, device: { kind, at: target.note.onset } };
  const values = valueWords(context.reading.phrase.groups[target.group]!, slots.length);
  return offerPlan(context, new Map([[target.group, slots]]), withChanges(title, values), wanted, {
    device: kind,
    each: `Play each note as a ${kind}`,
  });
}
