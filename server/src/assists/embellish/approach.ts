import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { shownNames } from '../writing/plan';
import { leadInto, soundTarget } from './lead-in';
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
    return ways(target).flatMap(({ notes, how, device }) => {
      // Where the scale step is a half step, diatonic and chromatic are one.
      const key = notes.map(midi).join(' ');
      if (seen.has(key)) return [];
      seen.add(key);
      return lead(context, target, notes, how, device);
    });
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
    return found !== null && Math.abs(midi(found) - midi(pitch)) <= 2 ? [{ notes: [found], how: `from ${side}, diatonic`, device: 'approach' }] : [];
  };
  const by = (side: 'above' | 'below', count: 1 | 2): Way => count === 1
    ? { notes: [leaningNote(pitch, 1, side)], how: `from ${side}, chromatic`, device: 'approach' }
    : { notes: [leaningNote(pitch, 2, side), leaningNote(pitch, 1, side)], how: `from ${side}`, device: 'double-chromatic' };
  return [by('below', 1), ...beside('above'), by('below', 2), by('above', 1), ...beside('below'), by('above', 2)];
}

function lead(context: AssistContext, target: Target, notes: readonly Pitch[], how: string, device: Way['device']): Offer[] {
  const name = formatNoteName(target.pitch);
  const { phrase } = context.reading;
  const title = `Approach ${name}: ${shownNames(phrase, notes, phrase.groups[target.group - 1] ?? phrase.groups[target.group]!).join('-')} ${name}`;
  const each = `Approach each target ${how}${device === 'approach' ? '' : ', by two half steps'}`;
  return leadInto(context, target, { notes, device, title, how, each });
}
