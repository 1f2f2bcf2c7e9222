import { move } from '../vocabulary';
import type { Find } from './device';
import { isChordTone, runs } from './study';

/** Three half steps or more in one direction to a chord tone (common practice). */
export const chromaticRun: Find = (study) =>
  runs(
    study.events,
    4,
    (from, to, run) => Math.abs(move(from, to)) === 1 && (run.length < 2 || move(run[0]!, run[1]!) === move(from, to)),
  ).flatMap((run) => {
    const end = run.findLastIndex(isChordTone);
    if (end < 3) return [];
    const notes = run.slice(0, end);
    return [
      {
        notes: notes.flatMap((event) => event.notes),
        target: run[end]!.notes[0]!,
        detail: move(run[0]!, run[1]!) > 0 ? 'rising' : 'falling',
      },
    ];
  });
