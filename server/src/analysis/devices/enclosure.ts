import { isBasicTone, isHalfStep, isStep, move } from '../vocabulary';
import { arpeggiates } from './arpeggio';
import type { Find, Found } from './device';
import { aboveRoot } from './resolution';
import { after, before, inScale, isBlueThird, type Event, type Study } from './study';

/** Two, three or four notes that wrap a basic chord tone from both sides, each side closing in; the target comes next (common practice). */
export const enclosure: Find = (study) =>
  study.events.flatMap((target) => {
    if (!target.basic || target.chord === null) return [];
    const near = nearBefore(study, target);
    // The longest one that is one.
    for (let size = near.length; size >= 2; size -= 1) {
      const found = wrap(study, target, near.slice(-size));
      if (found !== null) return [found];
    }
    return [];
  });

function wrap(study: Study, target: Event, notes: readonly Event[]): Found | null {
  if (
    !areClose(notes) ||
    !surrounds(notes, target) ||
    !areNeighbours(notes, target) ||
    !isApproached(notes, target) ||
    holdsArpeggio(study, notes)
  )
    return null;
  if (notes.length === 2 ? isBrokenThirds(study, notes, target) : isPassing(study, notes)) return null;
  const delayed = target.weight < 1;
  // Off the beat only what is foreign to the target's chord wraps it; else every turn of a line would.
  if (delayed && notes.some((event) => isBasicTone(target.chord!, event.note.pitch))) return null;
  return {
    notes: notes.flatMap((event) => event.notes),
    target: target.notes[0]!,
    detail: `${shape(notes, target)}, ${colour(notes, target)}${delayed ? ', delayed' : ''}`,
  };
}

const MOST = 4;

/** The events just before a target, unparted, each a step from it: four at most. */
function nearBefore(study: Study, target: Event): Event[] {
  const notes: Event[] = [];
  for (let event = before(study, target); event !== null && notes.length < MOST && isStep(target, event); event = before(study, event))
    notes.unshift(event);
  return notes;
}

/** Whether none is longer than a beat; the last one may last two, unless it rubs, or is a chord tone on a strong place: then it is heard by itself. */
function areClose(notes: readonly Event[]): boolean {
  const mayLast = ({ role, basic, weight }: Event, i: number): boolean =>
    i === notes.length - 1 && role !== 'avoid' && !(basic && weight >= 2);
  const isShort = (event: Event, i: number): boolean =>
    event.end.sub(event.onset).compare(mayLast(event, i) ? event.beat.mul(2) : event.beat) <= 0;
  // A rest of half a beat ends what came before it.
  const isApart = (event: Event, i: number): boolean =>
    i > 0 &&
    event.onset
      .sub(notes[i - 1]!.end)
      .mul(2)
      .compare(event.beat) >= 0;
  return notes.every(isShort) && !notes.some(isApart);
}

function surrounds(notes: readonly Event[], target: Event): boolean {
  const offs = notes.map((event) => move(target, event));
  const above = offs.filter((off) => off > 0);
  const below = offs.filter((off) => off < 0);
  const closing = (side: readonly number[]): boolean => side.every((off, i) => i === 0 || Math.abs(off) < Math.abs(side[i - 1]!));
  return above.length > 0 && below.length > 0 && closing(above) && closing(below);
}

/** Whether one of the last on each side is a half step away, or both are neighbours in the target's scale: B and D# lie round Db, and wrap it for nobody. */
function areNeighbours(notes: readonly Event[], target: Event): boolean {
  const nearest = [1, -1].map((side) => notes.findLast((event) => Math.sign(move(target, event)) === side)!);
  return (
    nearest.some((event) => isHalfStep(target, event)) || target.scale === null || nearest.every((event) => inScale(target.scale, event))
  );
}

/**
 * Over the target's own chord one of them may be a basic tone, as the leading tone to the root of a maj7; before a change all may be tones
 * of their own chord that are foreign to the target's basic tones, and one the leading tone to its root.
 */
function isApproached(notes: readonly Event[], target: Event): boolean {
  const basic = notes.filter((event) => event.basic);
  const under = basic.filter((event) => event.span === target.span);
  const before = basic.filter((event) => event.span !== target.span);
  const shared = before.filter((event) => isBasicTone(target.chord!, event.note.pitch));
  return under.length + shared.length <= 1 && shared.every((event) => move(event, target) === 1 && aboveRoot(target) === 0);
}

/** Whether the first of three or four, off the beat, passes on to the second by half steps from the note before: the wrapping begins later. */
function isPassing(study: Study, [first, second]: readonly Event[]): boolean {
  // A blue third rises to the third; nothing else is meant by it.
  if (isBlueThird(study, first!)) return true;
  const previous = before(study, first!);
  return previous !== null && first!.weight < 1 && isHalfStep(previous, first!) && move(previous, first!) === move(first!, second!);
}

/** Notes that go up or down an arpeggio of three or more belong to it: its last note steps on, and wraps nothing with the one before. */
function holdsArpeggio(study: Study, notes: readonly Event[]): boolean {
  return notes.some((event, i) => i > 0 && climbsOn(notes[i - 1]!, event) && arpeggioThrough(study, notes[i - 1]!, event) >= 3);
}

/** How many notes leap one way through neighbouring tones of a chord, these two among them. */
function arpeggioThrough(study: Study, first: Event, second: Event): number {
  const way = Math.sign(move(first, second));
  let count = 2;
  for (
    let next = first, event = before(study, first);
    event !== null && climbsOn(event, next) && Math.sign(move(event, next)) === way;
    next = event, event = before(study, event)
  )
    count += 1;
  for (
    let last = second, event = after(study, second);
    event !== null && climbsOn(last, event) && Math.sign(move(last, event)) === way;
    last = event, event = after(study, event)
  )
    count += 1;
  return count;
}

/** On to the neighbouring chord tone, or up by a third: what stands on top of a chord is heard as more of it. */
function climbsOn(from: Event, to: Event): boolean {
  if (from.chord === null || from.span !== to.span) return false;
  if (move(from, to) === 3 || move(from, to) === 4) return true;
  return from.role === 'chord-tone' && to.role === 'chord-tone' && arpeggiates(from, to, [from]);
}

/** Thirds one way and steps the other by turns: 1-3 2-4 3-5. */
function isBrokenThirds(study: Study, [first, second]: readonly Event[], target: Event): boolean {
  const way = Math.sign(move(first!, second!));
  const isThird = (from: Event, to: Event): boolean => [3, 4].includes(move(from, to) * way);
  const isStepBack = (from: Event, to: Event): boolean => isStep(from, to) && Math.sign(move(from, to)) === -way;
  if (!isThird(first!, second!) || !isStepBack(second!, target)) return false;
  const count = (
    start: Event,
    neighbour: (study: Study, event: Event) => Event | null,
    goes: (event: Event, other: Event, i: number) => boolean,
  ): number => {
    let moves = 0;
    for (
      let event = start, other = neighbour(study, start);
      other !== null && goes(event, other, moves);
      event = other, other = neighbour(study, other)
    )
      moves += 1;
    return moves;
  };
  const back = count(first!, before, (event, other, i) => (i % 2 === 0 ? isStepBack : isThird)(other, event));
  const on = count(target, after, (event, other, i) => (i % 2 === 0 ? isThird : isStepBack)(event, other));
  // Two thirds that lead here, or thirds that go on long enough to be heard as such.
  return back >= 2 || back + on >= 3;
}

function shape(notes: readonly Event[], target: Event): string {
  const sides = notes.map((event) => (move(target, event) > 0 ? 'above' : 'below'));
  const count = (side: string): number => sides.filter((one) => one === side).length;
  if (notes.length === 2) return sides.join('–');
  if (notes.length === 4)
    return count('above') === 2
      ? 'two–two'
      : `three ${count('above') === 3 ? 'above' : 'below'}–one ${count('above') === 3 ? 'below' : 'above'}`;
  return count('above') === 2 ? 'two above–one below' : 'two below–one above';
}

function colour(notes: readonly Event[], target: Event): 'diatonic' | 'chromatic' | 'mixed' {
  if (notes.every((event) => inScale(target.scale, event) && (event.span === target.span || inScale(event.scale, event))))
    return 'diatonic';
  return notes.every((event) => Math.abs(move(target, event)) === 1) ? 'chromatic' : 'mixed';
}
