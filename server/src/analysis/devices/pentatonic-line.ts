import { scale } from '../../theory/scale';
import { isDominant, isMinor, isStep } from '../vocabulary';
import type { Find } from './device';
import { scaleLines } from './scale-line';

/** Five notes or more wholly in a pentatonic scale, not an arpeggio and not all by step (OMT). */
export const pentatonicLine: Find = (study) =>
  scaleLines(study, {
    scales(chord, home) {
      const { root } = chord;
      if (isDominant(chord)) return [scale(home, 'minor pentatonic'), scale(root, 'major pentatonic'), scale(root, 'minor pentatonic')];
      if (isMinor(chord)) return [scale(root, 'minor pentatonic')];
      return chord.family.startsWith('major') ? [scale(root, 'major pentatonic')] : [];
    },
    isTold: (run) =>
      run.some((event) => !event.basic) && run.filter((event, i) => i > 0 && isStep(run[i - 1]!, event)).length < run.length - 1,
  });
