import type { Scale } from '../../theory/types';
import { isBasicTone, isStep, move } from '../vocabulary';
import type { Find, Found } from './device';
import { before, inScale, type Event, type Study } from './study';

/** Two, three or four notes that wrap a basic chord tone from both sides, each side closing in; the target comes next. */
export const enclosure: Find = (study) => study.events.flatMap((target) => [4, 3, 2].flatMap((size) => wrap(study, target, size)).slice(0, 1));

function wrap(study: Study, target: Event, size: number): Found[] {
  if (!target.basic || target.chord === null) return [];
  const notes = preceding(study, target, size);
  if (notes === null || !surrounds(notes, target) || !isApproached(notes, target)) return [];
  if (size === 2 && (isBrokenThirds(study, notes, target) || continuesArpeggio(study, notes))) return [];
  const delayed = target.weight < 1;
  // Off the beat only what is foreign to the target's chord wraps it; else every turn of a line would.
  if (delayed && notes.some((event) => isBasicTone(target.chord!, event.note.pitch))) return [];
  return [{ notes: notes.flatMap((event) => event.notes), target: target.notes[0]!, detail: `${shape(notes, target)}, ${colour(notes, target)}${delayed ? ', delayed' : ''}` }];
}

/** The events just before a target, unparted, none longer than a beat. */
function preceding(study: Study, target: Event, size: number): Event[] | null {
  const notes: Event[] = [];
  for (let event = before(study, target); event !== null && notes.length < size; event = before(study, event)) notes.unshift(event);
  return notes.length === size && notes.every((event) => event.end.sub(event.onset).compare(event.beat) <= 0) ? notes : null;
}

function surrounds(notes: readonly Event[], target: Event): boolean {
  const offs = notes.map((event) => move(target, event));
  const above = offs.filter((off) => off > 0);
  const below = offs.filter((off) => off < 0);
  const closing = (side: readonly number[]): boolean => side.every((off, i) => i === 0 || Math.abs(off) < Math.abs(side[i - 1]!));
  const near = notes.every((event) => isStep(target, event) || isScaleStep(target.scale, target, event));
  return above.length > 0 && below.length > 0 && above.length + below.length === notes.length && closing(above) && closing(below) && near;
}

/** The next note of the scale, where the scale leaps (an augmented second). */
function isScaleStep(scale: Scale | null, target: Event, event: Event): boolean {
  if (scale === null || Math.abs(move(target, event)) !== 3 || !inScale(scale, event)) return false;
  const pitches = new Set(scale.tones.map((tone) => (((event.midi - target.midi > 0 ? 1 : -1) * (tone.interval - rootDistance(scale, target))) % 12 + 12) % 12));
  return !pitches.has(1) && !pitches.has(2);
}

function rootDistance(scale: Scale, target: Event): number {
  const tone = scale.tones.find(({ name }) => name.letter === target.note.pitch.letter && name.alter === target.note.pitch.alter);
  return tone?.interval ?? 0;
}

/** Each is foreign to its own chord or, across a change, to the target's; at least one is foreign to the target's. */
function isApproached(notes: readonly Event[], target: Event): boolean {
  const foreign = notes.map((event) => !isBasicTone(target.chord!, event.note.pitch));
  return foreign.some((is) => is) && notes.every((event, i) => !event.basic || (event.span !== target.span && foreign[i]!));
}

/** Thirds after thirds, each a step on: 1-3 2-4 3-5. */
function isBrokenThirds(study: Study, [first, second]: readonly Event[], target: Event): boolean {
  const one = before(study, first!);
  const two = one === null ? null : before(study, one);
  if (one === null || two === null || !isStep(second!, target)) return false;
  const third = move(first!, second!);
  const isThird = (size: number): boolean => Math.abs(size) === 3 || Math.abs(size) === 4;
  return isThird(third) && isThird(move(two, one)) && Math.sign(move(two, one)) === Math.sign(third) && isStep(two, first!) && Math.sign(move(two, first!)) === Math.sign(move(first!, target));
}

/** The two wrapping notes go on in the direction of an arpeggio that leads to them. */
function continuesArpeggio(study: Study, [first, second]: readonly Event[]): boolean {
  const one = before(study, first!);
  const chordal = one !== null && [one, first!, second!].every((event) => event.role === 'chord-tone' && event.span === one.span);
  return chordal && Math.sign(move(one!, first!)) === Math.sign(move(first!, second!)) && Math.abs(move(one!, first!)) >= 3;
}

function shape(notes: readonly Event[], target: Event): string {
  const sides = notes.map((event) => (move(target, event) > 0 ? 'above' : 'below'));
  const count = (side: string): number => sides.filter((one) => one === side).length;
  if (notes.length === 2) return sides.join('–');
  if (notes.length === 4) return count('above') === 2 ? 'two–two' : `three ${count('above') === 3 ? 'above' : 'below'}–one ${count('above') === 3 ? 'below' : 'above'}`;
  return count('above') === 2 ? 'two above–one below' : 'two below–one above';
}

function colour(notes: readonly Event[], target: Event): 'diatonic' | 'chromatic' | 'mixed' {
  if (notes.every((event) => inScale(target.scale, event))) return 'diatonic';
  return notes.every((event) => Math.abs(move(target, event)) === 1) ? 'chromatic' : 'mixed';
}
