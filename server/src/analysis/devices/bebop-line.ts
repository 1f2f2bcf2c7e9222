import { scale } from '../../theory/scale';
import type { ScaleName } from '../../theory/types';
import { isDominant, isMinor, isStep } from '../vocabulary';
import type { Find } from './device';
import { scaleLines } from './scale-line';
import { isChordTone, type Event } from './study';

/** The half step that each bebop scale adds, in half steps above its root. */
export const ADDED: Partial<Record<ScaleName, number>> = { 'bebop dominant': 11, 'bebop major': 8, 'bebop dorian': 4 };

/** Five notes or more wholly in a bebop scale, at least half of them by step, its added half step passing between two chord tones on beats (common practice). */
export const bebopLine: Find = (study) =>
  scaleLines(study, {
    scales(chord) {
      const { root } = chord;
      if (isDominant(chord)) return [scale(root, 'bebop dominant')];
      if (isMinor(chord)) return [scale(root, 'bebop dorian')];
      return chord.family.startsWith('major') ? [scale(root, 'bebop major')] : [];
    },
    isTold: (run, above, { name }) =>
      run.filter((event, i) => i > 0 && isStep(run[i - 1]!, event)).length * 2 >= run.length - 1 &&
      run.some((event, i) => i > 0 && i < run.length - 1 && above[i] === ADDED[name] && isPassingHalfStep(event, run[i - 1]!, run[i + 1]!)),
  });

/** Off the beat and foreign, between two chord tones on beats, by step on both sides. */
function isPassingHalfStep(event: Event, previous: Event, next: Event): boolean {
  const between = Math.sign(event.midi - previous.midi) === Math.sign(next.midi - event.midi);
  const half = Math.abs(event.midi - previous.midi) === 1 || Math.abs(next.midi - event.midi) === 1;
  return (
    !isChordTone(event) &&
    event.weight < 1 &&
    previous.weight >= 1 &&
    next.weight >= 1 &&
    isChordTone(previous) &&
    isChordTone(next) &&
    between &&
    half &&
    isStep(previous, event) &&
    isStep(event, next)
  );
}
