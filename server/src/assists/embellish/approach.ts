import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist, AssistContext } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { shownNames } from '../writing/plan';
import { leadInto, soundTarget, type Lead } from './lead-in';
import type { Target } from './target';

export const approach: Assist = {
  id: 'approach',
  kind: 'refactor.rewrite.approach',
  what: 'Leads into a chord tone by step after a leap: from below or above, by half step or by scale step, or by two half steps.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    const seen = new Set<string>();
    const distinct = ways(target).filter(({ notes }) => {
      // Where the scale step is a half step, diatonic and chromatic are one.
      const key = notes.map(midi).join(' ');
      return !seen.has(key) && seen.add(key);
    });
    return leadInto(
      context,
      target,
      distinct.map((way) => leadOf(context, target, way)),
    );
  },
};

interface Way {
  readonly notes: readonly Pitch[];
  readonly how: string;
  readonly device: 'approach' | 'double-chromatic';
}

function ways({ pitch, scale }: Target): Way[] {
  const beside = (side: 'above' | 'below'): Way[] => {
    const found = scale === null ? null : scaleNoteBeside(scale, midi(pitch), side);
    return found !== null && Math.abs(midi(found) - midi(pitch)) <= 2
      ? [{ notes: [found], how: `from ${side}, diatonic`, device: 'approach' }]
      : [];
  };
  const by = (side: 'above' | 'below', count: 1 | 2): Way =>
    count === 1
      ? { notes: [leaningNote(pitch, 1, side)], how: `from ${side}, chromatic`, device: 'approach' }
      : { notes: [leaningNote(pitch, 2, side), leaningNote(pitch, 1, side)], how: `from ${side}`, device: 'double-chromatic' };
  return [by('below', 1), ...beside('above'), by('below', 2), by('above', 1), ...beside('below'), by('above', 2)];
}

function leadOf({ reading: { phrase } }: AssistContext, target: Target, { notes, how, device }: Way): Lead {
  const name = formatNoteName(target.pitch);
  const title = `Approach ${name}: ${shownNames(phrase, notes, phrase.groups[target.group - 1] ?? phrase.groups[target.group]!).join('-')} ${name}`;
  return { notes, device, title, how, each: `Approach each target ${how}${device === 'approach' ? '' : ', by two half steps'}` };
}
