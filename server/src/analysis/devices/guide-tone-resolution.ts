import { distanceUp } from '../harmonies';
import { chordOfPlacement, isStep, move } from '../vocabulary';
import type { Find } from './device';
import { isOnTheWay, resolvesInto } from './resolution';
import type { Event, Study } from './study';

/** The last 3 or 7 of a chord to the 7 or 3 of the next over a falling fifth, to its 3 or 7 over a falling half step (6 of a sixth chord for 7): by step, or staying. */
export const guideToneResolution: Find = (study) => {
  const guides = study.events.flatMap((event) => [event, ...struckAgain(study, event)]).filter(isGuide);
  const lastOf = new Map(guides.map((guide) => [guide.span, guide]));
  return guides.flatMap((guide) => {
    if (lastOf.get(guide.span) !== guide) return [];
    const followers = study.events.slice(guide.index + 1, guide.index + 3);
    const target = followers.find((event) => fallsInto(guide, event) && (isStep(guide, event) || guide.midi === event.midi));
    if (target === undefined) return [];
    if (followers.slice(0, followers.indexOf(target) + 1).some((event) => event.opens) && !isOverRest(guide, target, followers[0]!))
      return [];
    if (target !== followers[0] && !isOnTheWay(guide, followers[0]!, target)) return [];
    const name = (event: Event): number => event.read.placement!.figure.number;
    return [{ notes: guide.notes, target: target.notes[0]!, detail: `${name(guide)} to ${name(target)}` }];
  });
};

/** Beats of rest over which a seventh is still heard to want its third. */
const LONGEST_REST = 2;

/** Whether a seventh falls to a third with nothing but a short rest between. */
function isOverRest(guide: Event, target: Event, next: Event): boolean {
  const rest = target.onset.sub(guide.end);
  return (
    target === next &&
    guide.read.placement!.figure.number === 7 &&
    guide.midi > target.midi &&
    rest.compare(guide.beat.mul(LONGEST_REST)) <= 0
  );
}

/** The last of a note that is struck again, over another chord than the first: there it is a note of that chord. */
function struckAgain({ reading }: Study, event: Event): Event[] {
  const last = event.notes[event.notes.length - 1]!;
  const read = reading.notes[last]!;
  if (read.placement === null || read.placement.span === event.span) return [];
  const chord = chordOfPlacement(reading, read.placement);
  return [{ ...event, notes: [last], read, chord, span: read.placement.span, role: read.placement.role }];
}

function isGuide({ chord, read }: Event): boolean {
  const number = read.placement?.figure.number;
  return (
    chord !== null &&
    read.placement?.role === 'chord-tone' &&
    (number === 3 || number === 7 || (number === 6 && chord.family.endsWith('sixth')))
  );
}

/** Over a fifth the one becomes the other, over a half step each stays what it is. */
function fallsInto(guide: Event, event: Event): boolean {
  if (!isGuide(event) || !resolvesInto(guide, event)) return false;
  const isThird = (one: Event): boolean => one.read.placement!.figure.number === 3;
  const isHalfStepFall = distanceUp(guide.chord!, event.chord!) === 11;
  if ((isThird(guide) === isThird(event)) !== isHalfStepFall) return false;
  // All of a chord falls by half step there, or stays: A of Bbmaj7 is the root of Am7b5, and no way to its G.
  return !isHalfStepFall || Math.abs(move(guide, event)) <= 1;
}
