import { colourOf, heardMode } from '../modes';
import type { Find } from './device';
import { aboveRoot } from './resolution';

/**
 * Dorian 6, lydian #11, phrygian b9, in a vamp or under a stated scale, for a beat or longer (common practice). A vamp on a major chord
 * whose line has the #11 and never the 11 is heard as lydian.
 */
export const modalColour: Find = (study) => {
  const { context, phrase } = study.reading;
  const isHeardLydian = context.vamp && heardMode(study.events.map(aboveRoot), 'ionian') === 'lydian';
  return study.events.flatMap((event) => {
    const isModal = event.span !== null && (context.vamp || phrase.spans[event.span]!.statedScale !== null);
    const mode = event.scale?.name === 'ionian' && isHeardLydian ? 'lydian' : event.scale?.name;
    const isLong = event.end.sub(event.onset).compare(event.beat) >= 0;
    // The seventh that colours mixolydian is the chord's own.
    const colour = mode === undefined || mode === 'mixolydian' ? null : colourOf(mode);
    return isModal && isLong && mode !== undefined && colour !== null && aboveRoot(event) === colour.above
      ? [{ notes: event.notes, target: null, detail: mode }]
      : [];
  });
};
