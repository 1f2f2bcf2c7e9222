import { isHalfStep, isStep, move } from '../vocabulary';
import type { Find } from './device';
import { inScale, runs, type Event } from './study';

/** Five notes or more by step in one direction inside the chord-scale, on through no note that is held (common practice). */
export const scaleRun: Find = (study) =>
  runs(study.events, 5, goesOn).map((run) => ({
    notes: run.flatMap((event) => event.notes),
    target: null,
    detail: move(run[0]!, run[1]!) > 0 ? 'rising' : 'falling',
  }));

function goesOn(from: Event, to: Event, run: readonly Event[]): boolean {
  if (isHeldBefore(from, to) || !isStep(from, to) || !inScale(from.scale, from) || !inScale(to.scale, to)) return false;
  const before = run[run.length - 2];
  if (before === undefined) return true;
  // Two half steps in a row lie in no chord-scale: over a change they are heard as half steps.
  return Math.sign(move(before, from)) === Math.sign(move(from, to)) && !(isHalfStep(before, from) && isHalfStep(from, to));
}

/** Beats: on a note that lasts so long, and longer than the next, a line stops. */
const HELD = 2;

function isHeldBefore(from: Event, to: Event): boolean {
  const length = from.end.sub(from.onset);
  return length.compare(from.beat.mul(HELD)) >= 0 && length.compare(to.end.sub(to.onset)) > 0;
}
