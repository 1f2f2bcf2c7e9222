/** Where a chord leads: what guide tones, tensions and leading tones share. */
import { chroma, soundClass } from '../../theory/pitch';
import { distanceUp, fallsFifth } from '../harmonies';
import { isHalfStep, isStep } from '../vocabulary';
import { after, type Event, type Study } from './study';

/** Whether a note's chord falls a fifth or a half step to the chord of a later note. */
export function resolvesInto(from: Event, to: Event): boolean {
  if (from.chord === null || to.chord === null || from.span === to.span) return false;
  return fallsFifth(from.chord, to.chord) || distanceUp(from.chord, to.chord) === 11;
}

/** The next event and the one after it, unparted. */
export function nextTwo(study: Study, event: Event): Event[] {
  const next = after(study, event);
  const second = next === null ? null : after(study, next);
  return [next, second].filter((one) => one !== null);
}

/** Half steps from the root of its chord up to a note, 0 to 11; null over no chord. */
export function aboveRoot({ chord, sound }: Event): number | null {
  return chord === null ? null : soundClass(sound - chroma(chord.root));
}

/** 9, 11, 13 in any form, written in the symbol or not; of a note over a chord. */
export function isTension({ role, read }: Event): boolean {
  return role === 'tension' || [9, 11, 13].includes(read.placement!.figure.number);
}

/**
 * Whether a note between another and its target is only a way there. It is none where it is the goal itself: longer, and than a beat, a
 * basic tone a half step away, or by step a basic tone of the target's chord.
 */
export function isOnTheWay(from: Event, between: Event, target: Event): boolean {
  const length = (event: Event): Event['end'] => event.end.sub(event.onset);
  const isDwelt = length(between).compare(between.beat) > 0 && length(between).compare(length(from)) > 0;
  const isGoal = between.basic && (isHalfStep(from, between) || (between.span === target.span && isStep(from, between)));
  return !isDwelt && !isGoal;
}
