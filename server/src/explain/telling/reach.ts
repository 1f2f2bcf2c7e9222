/** How far notes go on beyond a stretch: by half steps, to an octave, from a peak or a target. */
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { isJoined, isLeap } from '../../analysis/vocabulary';
import { OCTAVE } from '../device-words';
import { breathAfter } from './breath';
import { beginsBebop } from './candidates';
import { isUpbeat } from './landings';
import { isFlagged, type Stretch, turnsBefore } from './stretch';

/** The note after a run that is its first an octave away, by step and over the same chord; null where there is none. */
export function octaveAfter({ phrase, notes }: Reading, first: number, last: number): number | null {
  const [low, own, next] = [phrase.notes[first]!, phrase.notes[last]!, phrase.notes[last + 1]];
  if (next === undefined || notes[next.index]!.placement?.span !== notes[first]!.placement?.span || !isJoined(own, next)) return null;
  return Math.abs(next.midi - low.midi) === OCTAVE &&
    !isLeap(own, next) &&
    Math.sign(next.midi - own.midi) === Math.sign(next.midi - low.midi)
    ? next.index
    : null;
}

/** All notes that go on by half steps one way, before and after some that do: another figure may begin or end among them. A bebop scale takes its own. */
export function halfStepsAround(reading: Reading, from: number, to: number): { readonly from: number; readonly to: number } {
  const { notes } = reading.phrase;
  const way = Math.sign(notes[to]!.midi - notes[from]!.midi);
  const goesOn = (one: number): boolean =>
    notes[one + 1] !== undefined && notes[one + 1]!.midi - notes[one]!.midi === way && isJoined(notes[one]!, notes[one + 1]!);
  let [first, last] = [from, to];
  while (first > 0 && goesOn(first - 1)) first -= 1;
  while (goesOn(last) && !beginsBebop(reading, last)) last += 1;
  return { from: first, to: last };
}

/** A chord tone at a change of chord: a run leads there though another figure begins with it. */
export function isGoal(reading: Reading, note: number): boolean {
  const [before, own] = [reading.notes[note - 1]?.placement, reading.notes[note]!.placement];
  return own !== null && own.role === 'chord-tone' && before != null && before.span !== own.span;
}

/** Two notes that go on from a peak or a low point; a short one into a long one is told by where it comes to rest. */
export function isFromPeak(reading: Reading, stretch: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  return (
    stretch.as === 'plain' &&
    stretch.to === stretch.from + 1 &&
    turnsBefore(reading, stretch.from) &&
    !isFlagged(reading, stretch.from - 1) &&
    !isUpbeat(reading, stretch)
  );
}

/** Whether two or three notes go on one way from the note before, which a device led to, or on which the line turned: E-C-A, of which E was the target or the peak. */
export function goesOnFromTarget(reading: Reading, { from, to, as }: Stretch): boolean {
  if (isFromPeak(reading, { from, to, as })) return true;
  const { phrase } = reading;
  const [target, first, last] = [phrase.notes[from - 1], phrase.notes[from]!, phrase.notes[to]!];
  if (as !== 'line' && as !== 'plain') return false;
  const size = to - from + 1;
  if (
    target === undefined ||
    size < 2 ||
    size > 3 ||
    breathAfter(reading, from - 1) ||
    !devicesAt(reading, from - 1).some((device) => device.target === from - 1)
  )
    return false;
  if (target.bar !== first.bar || reading.notes[from - 1]!.placement?.span !== reading.notes[from]!.placement?.span) return false;
  const notes = phrase.notes.slice(from - 1, to + 1);
  const way = Math.sign(last.midi - target.midi);
  return way !== 0 && notes.every((note, i) => i === 0 || Math.sign(note.midi - notes[i - 1]!.midi) === way);
}
