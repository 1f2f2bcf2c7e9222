/** Which notes anticipate the next chord, decided once (THEORY: Anticipation). */
import type { Note, Phrase } from '../model/types';
import type { HarmonicContext } from './harmonies';
import type { Places } from './places';
import { isBasicTone, isChordTone } from './vocabulary';

export interface Anticipation {
  /** Index of the harmony that comes in. */
  readonly harmony: number;
  /**
   * `held` into the change, or `left` in silence there: the note is heard against the chord that comes in. `struck-again`: the change has
   * a note of its own, and this one is heard against its own chord.
   */
  readonly how: 'held' | 'left' | 'struck-again';
}

/** Null where a note anticipates nothing: in a pickup, on a strong place, more than a beat before the change, or no tone of the chord to come. */
export function anticipationOf(
  note: Note,
  { phrase, context, places }: { readonly phrase: Phrase; readonly context: HarmonicContext; readonly places: Places },
): Anticipation | null {
  if (note.bar === 0 || places.isStrong(note.onset)) return null;
  const change = places.nextChange(note.onset);
  const own = places.harmonyAt(note.onset);
  if (change === null || own === null || change.at.sub(note.onset).compare(places.barAt(note.onset).meter.beat) > 0) return null;
  const before = context.harmonies[own]!.chord;
  const after = context.harmonies[change.harmony]!.chord;
  if (before === null || after === null) return null;
  const next = phrase.notes[note.index + 1];
  const isHeld = note.onset.add(note.duration).compare(change.at) > 0;
  const isLeft = next === undefined || next.onset.compare(change.at) > 0;
  if (isHeld || isLeft) {
    const isEarly = isChordTone(after, note.pitch) && !isChordTone(before, note.pitch);
    return isEarly ? { harmony: change.harmony, how: isHeld ? 'held' : 'left' } : null;
  }
  // What also sounds against its own chord is early only as a tone that makes the next one what it is.
  const isStruckAgain =
    next.midi === note.midi && next.onset.equals(change.at) && isBasicTone(after, note.pitch) && !isBasicTone(before, note.pitch);
  return isStruckAgain ? { harmony: change.harmony, how: 'struck-again' } : null;
}
