import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { shownNames } from '../writing/plan';
import { leadInto, soundTarget } from './lead-in';
import type { Target } from './target';

export const passingTone: Assist = {
  id: 'passing-tone',
  kind: 'refactor.rewrite.passing-tone',
  what: 'Fills the third, or the whole step, between two notes with a passing tone.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    const before = target === null ? undefined : context.reading.phrase.notes[target.note.index - 1];
    if (target === null || before === undefined) return [];
    const between = passing(before.midi, target);
    if (between === null) return [];
    const { phrase } = context.reading;
    const group = phrase.groups[target.group - 1] ?? phrase.groups[target.group]!;
    const names = [formatNoteName(before.pitch), ...shownNames(phrase, [between], group), formatNoteName(target.pitch)];
    return leadInto(context, target, [
      {
        notes: [between],
        device: 'passing-tone',
        each: 'Pass into each target',
        title: `Pass from ${names[0]} to ${names[2]}: ${names[0]}-${names[1]} ${names[2]}`,
      },
    ]);
  },
};

/** The scale note in the third, or the half step in the whole step; null where nothing lies between. */
function passing(from: number, target: Target): Pitch | null {
  const size = midi(target.pitch) - from;
  const side = size > 0 ? 'below' : 'above';
  if (Math.abs(size) === 2) return leaningNote(target.pitch, 1, side);
  if ((Math.abs(size) !== 3 && Math.abs(size) !== 4) || target.scale === null) return null;
  const found = scaleNoteBeside(target.scale, midi(target.pitch), side);
  return found !== null && Math.abs(midi(found) - from) >= 1 && Math.abs(midi(found) - from) <= 2 ? found : null;
}
