import { anticipationOf } from '../anticipation';
import { isDominant, isHalfStep } from '../vocabulary';
import type { Find } from './device';
import { aboveRoot, isOnTheWay, nextTwo, resolvesInto } from './resolution';
import { isBlueThird, isChordTone, type Event, type Study } from './study';

/** What an altered tension is called, by its half steps above the root. */
const NAMES: ReadonlyMap<number, string> = new Map([
  [1, 'b9'],
  [3, '#9'],
  [6, '#11'],
  [8, 'b13'],
]);
const HOME = new Set([0, 4, 7]);

/**
 * b9, #9, #11 (b5), b13 of a dominant that goes by half step, at once or after one note, to a chord tone or the 9 of the chord that the
 * dominant falls to, or to 1, 3, 5 of its own (common practice).
 */
export const tensionResolution: Find = (study) =>
  study.events.flatMap((event) => {
    const name = alteredTension(study, event);
    if (name === null) return [];
    const goal = nextTwo(study, event).find(
      (next, i, [first]) => isHalfStep(event, next) && isWelcome(event, next) && (i === 0 || isOnTheWay(event, first!, next)),
    );
    return goal === undefined
      ? []
      : [{ notes: event.notes, target: goal.notes[0]!, detail: `${name} to ${goal.read.placement!.figure.number}` }];
  });

function alteredTension(study: Study, event: Event): string | null {
  if (event.chord === null || !isDominant(event.chord) || (event.role !== 'tension' && event.role !== 'chord-tone')) return null;
  const name = NAMES.get(aboveRoot(event)!);
  const {
    reading: { phrase, context },
    places,
  } = study;
  return name === undefined || isBlueThird(study, event) || anticipationOf(event.note, { phrase, context, places }) !== null ? null : name;
}

function isWelcome(event: Event, goal: Event): boolean {
  if (goal.span === event.span) return HOME.has(aboveRoot(goal)!);
  return resolvesInto(event, goal) && (isChordTone(goal) || (aboveRoot(goal) === 2 && goal.role === 'tension'));
}
