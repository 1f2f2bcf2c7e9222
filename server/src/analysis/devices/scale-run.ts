import type { Finder } from './device';
import { inScale, isStep, move, runs } from './study';

/** Five notes or more by step in one direction inside the chord-scale (common practice). */
export const scaleRun: Finder = {
  kinds: ['scale-run'],
  layer: 'figure',
  find: (study) =>
    runs(study, 5, (from, to, run) => isStep(from, to) && inScale(from.scale, from) && inScale(to.scale, to) && (run.length < 2 || Math.sign(move(run[0]!, run[1]!)) === Math.sign(move(from, to)))).map((run) => ({
      kind: 'scale-run', notes: run.flatMap((event) => event.notes), target: null, detail: move(run[0]!, run[1]!) > 0 ? 'rising' : 'falling',
    })),
};
