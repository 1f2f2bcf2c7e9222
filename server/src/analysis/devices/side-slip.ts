import { soundClass } from '../../theory/pitch';
import type { Find, Found } from './device';
import { after, before, inScale, runs, type Event, type Study } from './study';

/** Four notes or more in the scale a half step away, three of them outside, with the chord's own scale before and after (common practice). It excuses nothing. */
export const sideSlip: Find = (study) => {
  const [up, down] = [slips(study, 1), slips(study, -1)];
  const meets = (one: Found, others: readonly Found[]): boolean =>
    others.some(({ notes }) => notes.some((note) => one.notes.includes(note)));
  // Notes that the scale on either side holds are told once, without a way.
  return [...up.map((one) => (meets(one, down) ? { ...one, detail: '' } : one)), ...down.filter((one) => !meets(one, up))];
};

function slips(study: Study, way: 1 | -1): Found[] {
  const found = runs(study.events, 4, (from, to) => from.span === to.span && isAside(from, way) && isAside(to, way));
  return found.flatMap((whole) => {
    // It begins with a note that is outside; what both scales hold goes on with it.
    const run = whole.slice(Math.max(0, whole.findIndex(isOutside)));
    if (run.length < 4 || run.filter(isOutside).length < 3) return [];
    const [home, back] = [before(study, run[0]!), after(study, run[run.length - 1]!)];
    if (home === null || back === null || !isInside(home) || !isInside(back)) return [];
    return [{ notes: run.flatMap((event) => event.notes), target: back.notes[0]!, detail: way === 1 ? 'up' : 'down' }];
  });
}

/** Whether the chord's scale, moved by a half step, holds the note. */
function isAside({ scale, sound }: Event, way: 1 | -1): boolean {
  return scale !== null && scale.sounds.has(soundClass(sound - way));
}

/** No note of the chord's scale, and no tension of a dominant; in a blues the flat five slips, too. */
function isOutside(event: Event): boolean {
  return event.scale !== null && event.role !== 'tension' && event.role !== 'chord-tone' && !inScale(event.scale, event);
}

function isInside(event: Event): boolean {
  return event.scale !== null && event.role !== 'outside' && inScale(event.scale, event);
}
