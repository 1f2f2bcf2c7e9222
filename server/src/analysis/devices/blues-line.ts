import { scale } from '../../theory/scale';
import { isDominant, isMinor } from '../vocabulary';
import type { Find } from './device';
import { scaleLines } from './scale-line';

/** Five notes or more wholly in a blues scale, its blue notes heard (OMT). */
export const bluesLine: Find = (study) =>
  scaleLines(study, {
    scales(chord, home) {
      const { root } = chord;
      if (isDominant(chord)) return [scale(home, 'minor blues'), scale(root, 'minor blues'), scale(root, 'major blues')];
      return isMinor(chord) ? [scale(root, 'minor blues')] : [];
    },
    isTold: (_, above, { name }) => above.includes(3) && above.includes(name === 'minor blues' ? 6 : 4),
  });
