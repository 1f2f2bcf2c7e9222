import type { Finder, Match } from './device';
import { after, isChordTone, isStep, move, type Event, type Study } from './study';

/** Kept or struck again from the chord before, on a stronger place, then down by step (suspension) or up (retardation) (OMT). */
export const suspension: Finder = {
  kinds: ['suspension', 'retardation'],
  layer: 'ornament',
  find: (study) => study.events.flatMap((event) => kept(study, event)),
};

function kept(study: Study, event: Event): Match[] {
  const next = after(study, event);
  if (next === null || !isStep(event, next) || !isChordTone(next) || !isForeignLater(study, event)) return [];
  const down = move(event, next) < 0;
  return [{ kind: down ? 'suspension' : 'retardation', notes: event.notes, target: next.notes[0]!, detail: '' }];
}

/** At home over the chord it starts on, and foreign to the one it is held or struck again into, on a strong place. */
function isForeignLater(study: Study, event: Event): boolean {
  const { reading } = study;
  const soundings = event.notes.flatMap((note) => reading.notes[note]!.soundings);
  const [first, ...later] = soundings;
  if (first === undefined || first.standing.role !== 'chord-tone') return false;
  const last = later[later.length - 1];
  return last !== undefined && last.strong && last.standing.span !== first.standing.span && last.standing.role !== 'chord-tone';
}
