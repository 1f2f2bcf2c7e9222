import { fallsFifth, distanceUp } from '../harmonies';
import { isStep } from '../vocabulary';
import type { Find } from './device';
import type { Event, Study } from './study';

/** The last 3 or 7 of a chord stays or steps to the 3 or 7 (6 of a sixth chord) of the next, over a fall of a fifth or a half step. */
export const guideToneResolution: Find = (study) =>
  study.events.flatMap((guide) => {
    if (!isGuide(guide) || !isLastGuide(study, guide)) return [];
    const followers = study.events.slice(guide.index + 1, guide.index + 3);
    const target = followers.find((event) => fallsInto(guide, event) && isGuide(event) && (isStep(guide, event) || guide.midi === event.midi));
    if (target === undefined || followers.slice(0, followers.indexOf(target) + 1).some((event) => event.opens)) return [];
    const name = (event: Event): number => event.read.placement!.figure.number;
    return [{ notes: guide.notes, target: target.notes[0]!, detail: `${name(guide)} to ${name(target)}` }];
  });

function isGuide({ chord, read }: Event): boolean {
  const number = read.placement?.figure.number;
  return chord !== null && read.placement?.role === 'chord-tone' && (number === 3 || number === 7 || (number === 6 && chord.family.endsWith('sixth')));
}

/** No other 3 or 7 of the same chord follows it. */
function isLastGuide({ events }: Study, guide: Event): boolean {
  return !events.slice(guide.index + 1).some((event) => event.span === guide.span && isGuide(event));
}

function fallsInto(guide: Event, event: Event): boolean {
  if (guide.chord === null || event.chord === null || guide.span === event.span) return false;
  return fallsFifth(guide.chord, event.chord) || distanceUp(guide.chord, event.chord) === 11;
}
