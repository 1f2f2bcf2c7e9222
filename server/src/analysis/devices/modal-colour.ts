import type { ScaleName } from '../../theory/types';
import type { Find } from './device';
import { aboveRoot } from './resolution';

/** The note that tells each mode from its neighbours, in half steps above the root. */
const COLOURS: Partial<Record<ScaleName, number>> = { dorian: 9, lydian: 6, phrygian: 1 };

/** Dorian 6, lydian #11, phrygian b9, in a vamp or under a stated scale, for a beat or longer (common practice). */
export const modalColour: Find = (study) =>
  study.events.flatMap((event) => {
    const { context, phrase } = study.reading;
    const isModal = event.span !== null && (context.vamp || phrase.spans[event.span]!.statedScale !== null);
    const colour = event.scale === null ? undefined : COLOURS[event.scale.name];
    const isLong = event.end.sub(event.onset).compare(event.beat) >= 0;
    return isModal && isLong && colour !== undefined && aboveRoot(event) === colour ? [{ notes: event.notes, target: null, detail: event.scale!.name }] : [];
  });
