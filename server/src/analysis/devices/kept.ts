/** A note kept, or struck again, from the chord before, where it is foreign to the one that comes in: what suspension and retardation share. */
import { isStep, move } from '../vocabulary';
import type { Found } from './device';
import { after, isChordTone, type Event, type Study } from './study';

/** The kept notes that then move by step, downward or upward, to a chord tone. */
export function keptNotes(study: Study, way: 'down' | 'up'): Found[] {
  return study.events.flatMap((event) => {
    const next = after(study, event);
    if (next === null || !isStep(event, next) || !isChordTone(next) || !isForeignLater(study, event)) return [];
    const goes = move(event, next) < 0 ? 'down' : 'up';
    return goes === way ? [{ notes: event.notes, target: next.notes[0]!, detail: '' }] : [];
  });
}

/** At home over the chord it starts on, and foreign to the one it is held or struck again into, on a strong place. */
function isForeignLater(study: Study, event: Event): boolean {
  const { reading } = study;
  const soundings = event.notes.flatMap((note) => reading.notes[note]!.soundings);
  const [first, ...later] = soundings;
  if (first === undefined || first.placement.role !== 'chord-tone') return false;
  const last = later[later.length - 1];
  return last !== undefined && last.strong && last.placement.span !== first.placement.span && last.placement.role !== 'chord-tone';
}
