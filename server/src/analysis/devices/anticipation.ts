import { anticipationOf } from '../anticipation';
import type { Find } from './device';
import type { Study } from './study';

/** A tone of the next chord, sounded before it: held into the change, left alone there, or struck again with it (OMT). */
export const anticipation: Find = (study) => {
  const {
    reading: { phrase, context },
    places,
  } = study;
  return phrase.notes
    .filter((note) => {
      const early = anticipationOf(note, { phrase, context, places });
      // What is struck on a beat and left before the change is heard over its own chord, too.
      return early !== null && !(early.how === 'left' && places.isOnBeat(note.onset));
    })
    .map((note) => ({ notes: [note.index], target: follower(study, note.index), detail: '' }));
};

/** The next note, where it sounds the same. */
function follower({ reading: { phrase } }: Study, note: number): number | null {
  const next = phrase.notes[note + 1];
  return next !== undefined && next.midi === phrase.notes[note]!.midi ? next.index : null;
}
