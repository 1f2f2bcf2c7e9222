/** A stretch as a clause: what it is, in the order in which it is heard. */
import type { Reading } from '../../analysis/types';
import { say } from '../say';
import type { Clause } from './clause';
import { deviceClause } from './device-clause';
import { inHeardScale } from './heard-scale';
import { isCadence, isLanding, isUpbeat, restOf } from './landings';
import { isChromaticNeighbour } from './neighbours';
import { plainTold } from './plain-clause';
import { goesOnFromTarget } from './reach';
import { repeated } from './repeat-words';
import type { Repeat } from './repeats';
import { mostFigures, type Stretch } from './stretch';

/** Notes up and down from which on their scale may be named. */
const FEWEST_OF_SCALE = 4;

/** `before` is the stretch before, in the same bar. */
export function clauseOf(reading: Reading, stretch: Stretch, before: Stretch | null): Clause {
  if (stretch.repeat !== null) return repeatClause(reading, stretch, stretch.repeat);
  if (stretch.device !== null) return deviceClause(reading, stretch, stretch.device);
  const { tellsEnd, target = null, ...told } = plainTold(reading, stretch, before);
  const words =
    stretch.as === 'line' || stretch.to - stretch.from >= FEWEST_OF_SCALE - 1 ? inHeardScale(reading, stretch, told.words) : told.words;
  const rest = tellsEnd ? [] : restOf(reading, stretch);
  return { ...told, words, weight: weightOfPlain(reading, stretch), plain: true, target, rest };
}

/** A repeat is told where it begins; its later bars go without words. */
function repeatClause(reading: Reading, stretch: Stretch, repeat: Repeat): Clause {
  const nothing: Clause = { words: [], weight: 0, plain: false, target: null, rest: [] };
  if (stretch.from !== repeat.from) return nothing;
  const rest = repeat.partial ? restOf(reading, stretch) : [];
  return { ...nothing, words: say`${repeated(reading, repeat)}${rest}`, weight: 8 };
}

function weightOfPlain(reading: Reading, stretch: Stretch): number {
  const size = stretch.to - stretch.from + 1;
  if ((size === 1 && isLanding(reading, stretch.to)) || isUpbeat(reading, stretch)) return 6;
  if (stretch.as === 'line' || goesOnFromTarget(reading, stretch) || isCadence(reading, stretch)) return 4;
  if (size < 4 && isChromaticNeighbour(reading, stretch)) return 3;
  return size > mostFigures('plain') || size < 4 ? 1 : 3;
}
