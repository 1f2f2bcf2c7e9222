import type { ScaleName } from '../../theory/types';
import type { Find } from './device';
import { aboveRoot } from './resolution';
import type { Event, Study } from './study';

/** The note that tells each mode from its neighbours, in half steps above the root. */
const COLOURS: Partial<Record<ScaleName, number>> = { dorian: 9, lydian: 6, phrygian: 1 };

/**
 * Dorian 6, lydian #11, phrygian b9, in a vamp or under a stated scale, for a beat or longer (common practice). A vamp on a major chord
 * whose line has the #11 and never the 11 is heard as lydian.
 */
export const modalColour: Find = (study) =>
  study.events.flatMap((event) => {
    const { context, phrase } = study.reading;
    const isModal = event.span !== null && (context.vamp || phrase.spans[event.span]!.statedScale !== null);
    const mode = modeOf(study, event);
    const colour = mode === null ? undefined : COLOURS[mode];
    const isLong = event.end.sub(event.onset).compare(event.beat) >= 0;
    return isModal && isLong && colour !== undefined && aboveRoot(event) === colour ? [{ notes: event.notes, target: null, detail: mode! }] : [];
  });

function modeOf({ events, reading: { context } }: Study, { scale, span }: Event): ScaleName | null {
  if (scale?.name !== 'ionian' || !context.vamp) return scale?.name ?? null;
  const above = new Set(events.filter((event) => event.span === span || event.chord !== null).map(aboveRoot));
  return above.has(6) && !above.has(5) ? 'lydian' : 'ionian';
}
