import { formatNoteName, midi } from '../theory/pitch';
import type { Assist } from './assist';
import { leadInto, soundTarget } from './embellish';
import { leaningNote, scaleNoteBeside } from './neighbours';

export const approach: Assist = {
  id: 'approach',
  kind: 'refactor.rewrite.approach',
  what: 'Leads into a chord tone by step after a leap: from below by half step, from above by scale step, or by two half steps from below.',
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    const name = formatNoteName(target.pitch);
    const below = leaningNote(target.pitch, 1, 'below');
    const below2 = leaningNote(target.pitch, 2, 'below');
    const scaleAbove = target.scale === null ? null : scaleNoteBeside(target.scale, midi(target.pitch), 'above');
    const above = scaleAbove !== null && midi(scaleAbove) - midi(target.pitch) <= 2 ? scaleAbove : leaningNote(target.pitch, 1, 'above');
    return [
      ...leadInto(context, target, [below], 'approach', `Approach ${name} from below (chromatic): ${formatNoteName(below)} ${name}`),
      ...leadInto(context, target, [above], 'approach', `Approach ${name} from above: ${formatNoteName(above)} ${name}`),
      ...leadInto(context, target, [below2, below], 'double-chromatic', `Approach ${name} by two half steps: ${formatNoteName(below2)}-${formatNoteName(below)} ${name}`),
    ].slice(0, 2);
  },
};
