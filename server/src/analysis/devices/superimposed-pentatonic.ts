import { figureName, parseFigure } from '../../theory/figure';
import { plainSpelling } from '../../theory/pitch';
import { scale } from '../../theory/scale';
import type { Chord, NoteName, Scale } from '../../theory/types';
import { isMinor, isStep } from '../vocabulary';
import type { Find } from './device';
import { scaleLines } from './scale-line';

/** Roots of major pentatonics above a chord's root: all but the root itself and b3, whose relative minor is the chord's. */
const ABOVE = ['2', '5', '4', 'b7', '6', '3', '7', 'b5', 'b9', 'b13'];

/** Five notes or more wholly in a pentatonic that is neither the chord root's nor its relative, with two tensions, nothing avoid or outside (common practice). */
export const superimposedPentatonic: Find = (study) =>
  scaleLines(study, {
    scales: pentatonicsOver,
    isTold: (run, above) =>
      new Set(above).size === 5 &&
      run.every(({ role }) => role === 'chord-tone' || role === 'tension') &&
      new Set(run.filter(({ role }) => role === 'tension').map(({ read }) => read.placement!.figure.number)).size >= 2 &&
      run.filter((event, i) => i > 0 && isStep(run[i - 1]!, event)).length < run.length - 1,
  });

const known = new WeakMap<Chord, readonly Scale[]>();

function pentatonicsOver(chord: Chord): readonly Scale[] {
  const scales = known.get(chord) ?? ABOVE.map((figure) => pentatonicOn(chord, figure));
  known.set(chord, scales);
  return scales;
}

/** Named as major or, over a minor or altered chord, as its relative minor. */
function pentatonicOn(chord: Chord, figure: string): Scale {
  const root = plain(figureName(chord.root, parseFigure(figure)!));
  return isMinor(chord) || chord.family === 'altered'
    ? scale(plain(figureName(root, parseFigure('6')!)), 'minor pentatonic')
    : scale(root, 'major pentatonic');
}

function plain(name: NoteName): NoteName {
  const { letter, alter } = plainSpelling({ ...name, octave: 4 });
  return { letter, alter };
}
