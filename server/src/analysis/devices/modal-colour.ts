import type { ScaleName } from '../../theory/types';
import type { Find } from './device';
import { aboveRoot } from './resolution';
import type { Event } from './study';

/** The note that tells each mode from its neighbours, in half steps above the root. */
const COLOURS: Partial<Record<ScaleName, number>> = { dorian: 9, lydian: 6, phrygian: 1 };

/**
 * Dorian 6, lydian #11, phrygian b9, in a vamp or under a stated scale, for a beat or longer (common practice). A vamp on a major chord
 * whose line has the #11 and never the 11 is heard as lydian.
 */
export const modalColour: Find = (study) => {
  const { context, phrase } = study.reading;
  const isHeardLydian = context.vamp && isLydian(study.events);
  return study.events.flatMap((event) => {
    const isModal = event.span !== null && (context.vamp || phrase.spans[event.span]!.statedScale !== null);
    const mode = event.scale?.name === 'ionian' && isHeardLydian ? 'lydian' : event.scale?.name;
    const isLong = event.end.sub(event.onset).compare(event.beat) >= 0;
    return isModal && isLong && mode !== undefined && COLOURS[mode] !== undefined && aboveRoot(event) === COLOURS[mode] ? [{ notes: event.notes, target: null, detail: mode }] : [];
  });
};

function isLydian(events: readonly Event[]): boolean {
  const above = new Set(events.filter(({ chord }) => chord !== null).map(aboveRoot));
  return above.has(6) && !above.has(5);
}
