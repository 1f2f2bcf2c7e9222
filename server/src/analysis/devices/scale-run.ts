import { isStep, move } from '../vocabulary';
import type { Find } from './device';
import { inScale, runs } from './study';

/** Five notes or more by step in one direction inside the chord-scale (common practice). */
export const scaleRun: Find = (study) =>
  runs(study.events, 5, (from, to, run) => isStep(from, to) && inScale(from.scale, from) && inScale(to.scale, to) && (run.length < 2 || Math.sign(move(run[0]!, run[1]!)) === Math.sign(move(from, to)))).map((run) => ({
    notes: run.flatMap((event) => event.notes), target: null, detail: move(run[0]!, run[1]!) > 0 ? 'rising' : 'falling',
  }));
