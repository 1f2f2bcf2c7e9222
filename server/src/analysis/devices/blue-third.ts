import type { Find } from './device';
import { after, isBlueThird } from './study';

/** The b3 into the major third over I7 (OMT, "Blues Melodies"). */
export const blueThird: Find = (study) =>
  study.events
    .filter((event) => isBlueThird(study, event))
    .map((event) => ({ notes: event.notes, target: after(study, event)!.notes[0]!, detail: '' }));
