/** How a bar begins, before what its notes are. */
import type { Reading } from '../../analysis/types';
import type { Bar } from '../../model/types';
import { durationWords } from '../../rules/words';
import { chordName, degreeWords, noteName, withRole } from '../note-words';
import { namesChord } from '../say';
import { movedBy } from './repeat-words';
import { isToldAnew, repeatsOf } from './repeats';
import { rhythmTakenUp } from './rhythm';
import type { Part } from './sentences';
import type { Stretch } from './stretch';

/** `after a rest on beat 1, `, `the same a third lower: `, `in the rhythm of bar 1: `: one at most; empty where a bar begins without. `told` is the first clause. */
export function openingOf(reading: Reading, place: Bar | undefined, bar: number, stretches: readonly Stretch[], told: Part): string {
  // A side-slip says itself that it is a figure moved.
  const slips = reading.slips.has(stretches[0]!.from);
  return (
    (slips ? '' : movedBar(reading, bar)) || afterRest(reading, place, stretches, told) || (slips ? '' : takenUp(reading, bar, stretches))
  );
}

/** A rest on the downbeat is heard; it is told where the bar begins with it. */
function afterRest(reading: Reading, place: Bar | undefined, stretches: readonly Stretch[], told: Part): string {
  const { phrase } = reading;
  const first = phrase.notes[stretches[0]!.from]!;
  const before = phrase.notes[first.index - 1];
  // The bar that comes again begins with it, too.
  if (stretches[told.stretch]?.repeat?.from === first.index && told.from === first.index) return '';
  if (place === undefined || place.number === 0 || place.pickup || first.onset.equals(place.onset)) return '';
  if (before !== undefined && before.onset.add(before.duration).compare(place.onset) > 0) return '';
  // Notes of a stretch of the bar before may stand on the downbeat.
  if (before !== undefined && before.bar === place.number) return '';
  const beats = first.onset.sub(place.onset).div(place.meter.beat);
  const rest = `after ${beats.compare(2) < 0 ? 'a rest on beat 1' : `${durationWords(beats.toFraction())} of rest`}`;
  // The rest is before the first note, told or not.
  if (told.from === first.index) return `${rest}, `;
  const own = reading.notes[first.index]!.placement;
  // The clause that follows may name the chord.
  const entry =
    own !== null && namesChord(told.words, chordName(reading, own))
      ? `${noteName(reading, first.index)}, the ${degreeWords(reading, own)}`
      : withRole(reading, first.index);
  return `${rest} the line comes in on ${entry}; `;
}

/** `the same a third lower: ` */
function movedBar(reading: Reading, bar: number): string {
  const repeat = repeatsOf(reading).find((one) => reading.phrase.notes[one.from]!.bar === bar && isToldAnew(reading, one));
  return repeat === undefined ? '' : `the same ${movedBy(reading, repeat)}: `;
}

/** A bar that is told as a repeat of another goes without it. */
function takenUp(reading: Reading, bar: number, stretches: readonly Stretch[]): string {
  const of = stretches.some(({ repeat }) => repeat !== null) ? null : rhythmTakenUp(reading, bar);
  return of === null ? '' : `in the rhythm of bar ${of}: `;
}
