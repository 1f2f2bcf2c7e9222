import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { leadInto, soundTarget } from './lead-in';

export const repeatedPickup: Assist = {
  id: 'repeated-pickup',
  kind: 'refactor.rewrite.repeated-pickup',
  what: 'Strikes a target once before its beat: a pickup on the same note.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    // A note that is there already would be struck a third time.
    if (target === null || context.reading.phrase.notes[target.note.index - 1]?.midi === target.note.midi) return [];
    const name = formatNoteName(target.pitch);
    return leadInto(context, target, [
      {
        notes: [target.pitch],
        device: null,
        title: `Pick up ${name} on the same note: ${name} ${name}`,
        each: 'Pick up each target on the same note',
      },
    ]);
  },
};
