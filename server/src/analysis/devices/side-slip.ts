import { soundClass } from '../../theory/pitch';
import type { Find, Found } from './device';
import { after, before, inScale, runs, type Event, type Study } from './study';

/**
 * A figure that comes again a half step away and back: those excuse their notes. Else four notes or more in the scale a half step away, three of them outside, with
 * the chord's own scale before and after (common practice); these excuse nothing.
 */
export const sideSlip: Find = (study) => {
  const evident = evidentSlips(study);
  const isFree = (one: Found): boolean => !one.notes.some((note) => study.reading.slips.has(note));
  const [up, down] = [slips(study, 1).filter(isFree), slips(study, -1).filter(isFree)];
  const meets = (one: Found, others: readonly Found[]): boolean =>
    others.some(({ notes }) => notes.some((note) => one.notes.includes(note)));
  // Notes that the scale on either side holds are told once, without a way.
  return [...evident, ...up.map((one) => (meets(one, down) ? { ...one, detail: '' } : one)), ...down.filter((one) => !meets(one, up))];
};

function slips(study: Study, way: 1 | -1): Found[] {
  const found = runs(study.events, 4, (from, to) => from.span === to.span && isAside(from, way) && isAside(to, way));
  return found.flatMap((whole) => {
    // It begins with a note that is outside; what both scales hold goes on with it. The first note inside with which it ends is where the line comes back.
    const run = whole.slice(Math.max(0, whole.findIndex(isOutside)), whole.findLastIndex((event) => !isInside(event)) + 1);
    if (run.length < 4 || run.filter(isOutside).length < 3) return [];
    const [home, back] = [before(study, run[0]!), after(study, run[run.length - 1]!)];
    if (home === null || back === null || !isInside(home) || !isInside(back)) return [];
    return [{ notes: run.flatMap((event) => event.notes), target: back.notes[0]!, detail: wayWord(way) }];
  });
}

function evidentSlips({ reading }: Study): Found[] {
  return [...new Set(reading.slips.values())].map(({ from, to, way, back }) => ({
    notes: Array.from({ length: to - from + 1 }, (_, i) => from + i),
    target: back,
    detail: wayWord(way),
  }));
}

function wayWord(way: 1 | -1): string {
  return way === 1 ? 'up' : 'down';
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
