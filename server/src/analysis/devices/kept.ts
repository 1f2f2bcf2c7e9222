/** A note kept, or struck again, from the chord before, where it is foreign to the one that comes in, or the 4 of a sus chord: what suspension and retardation share. */
import { chroma } from '../../theory/pitch';
import type { Chord } from '../../theory/types';
import { chordOfPlacement, isStep, move } from '../vocabulary';
import type { Found } from './device';
import { after, isChordTone, type Event, type Study } from './study';

/** The kept notes that then move by step, downward or upward, to a chord tone. */
export function keptNotes(study: Study, way: 'down' | 'up'): Found[] {
  return study.events.flatMap((event) => {
    const next = after(study, event);
    if (next === null || !isStep(event, next) || !isChordTone(next)) return [];
    const goes = move(event, next) < 0 ? 'down' : 'up';
    if (goes !== way) return [];
    if (isForeignLater(study, event)) return [{ notes: event.notes, target: next.notes[0]!, detail: '' }];
    return isFourthToThird(study, event, next) ? [{ notes: event.notes, target: next.notes[0]!, detail: '4–3' }] : [];
  });
}

/** At home over the chord it starts on, and foreign to the one it is held or struck again into, on a strong place. */
function isForeignLater(study: Study, event: Event): boolean {
  const { reading } = study;
  const soundings = event.notes.flatMap((note) => reading.notes[note]!.soundings);
  const [first, ...later] = soundings;
  if (first === undefined || first.placement.role !== 'chord-tone') return false;
  const last = later[later.length - 1];
  if (last === undefined || !last.strong || last.placement.span === first.placement.span || last.placement.role === 'chord-tone')
    return false;
  // A thirteenth colours its chord, and has nowhere to go.
  const { number, alter } = last.placement.called;
  return !(number === 13 && alter === 0);
}

/** The 4 of a sus chord that becomes the 3 of the same root: the chord itself suspends it. */
function isFourthToThird({ reading }: Study, event: Event, next: Event): boolean {
  const placement = event.notes.flatMap((note) => reading.notes[note]!.soundings).at(-1)?.placement;
  const own = chordOfPlacement(reading, placement ?? null);
  if (own === null || next.chord === null || chroma(own.root) !== chroma(next.chord.root)) return false;
  return isTone(own, 4, event) && !own.tones.some(({ figure }) => figure.number === 3) && isTone(next.chord, 3, next);
}

function isTone({ tones }: Chord, number: number, { note }: Event): boolean {
  return tones.some(({ figure, name }) => figure.number === number && chroma(name) === chroma(note.pitch));
}
