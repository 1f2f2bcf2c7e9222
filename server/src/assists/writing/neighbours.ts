/** Chord tones and scale notes around a pitch. */
import { midi, nextAbove, nextBelow, writable } from '../../theory/pitch';
import type { Chord, NoteName, Pitch, Scale } from '../../theory/types';

function nearestOf(names: readonly NoteName[], from: number, side: 'above' | 'below'): Pitch | null {
  const found = names.map((name) => writable(side === 'above' ? nextAbove(name, from) : nextBelow(name, from)));
  const byDistance = found.sort((a, b) => Math.abs(midi(a) - from) - Math.abs(midi(b) - from));
  return byDistance[0] ?? null;
}

/** The nearest chord tone strictly above or below a sound (MIDI). */
export function chordToneBeside(chord: Chord, from: number, side: 'above' | 'below'): Pitch | null {
  return nearestOf(
    chord.tones.map((tone) => tone.name),
    from,
    side,
  );
}

/** The nearest note of a scale strictly above or below a sound (MIDI). */
export function scaleNoteBeside(scale: Scale, from: number, side: 'above' | 'below'): Pitch | null {
  return nearestOf(
    scale.tones.map((tone) => tone.name),
    from,
    side,
  );
}

const LETTERS = 'CDEFGAB';

/** The note so many half steps (1 or 2) above or below a pitch, spelled by the neighbouring letter (it leans on its target) where that can be written. */
export function leaningNote(target: Pitch, halfSteps: 1 | 2, side: 'above' | 'below'): Pitch {
  const step = side === 'above' ? 1 : 6;
  const index = LETTERS.indexOf(target.letter);
  const letter = LETTERS[(index + step) % 7] as Pitch['letter'];
  const octave = target.octave + (side === 'above' && letter === 'C' ? 1 : side === 'below' && letter === 'B' ? -1 : 0);
  const wanted = midi(target) + (side === 'above' ? halfSteps : -halfSteps);
  const natural = { letter, alter: 0, octave };
  return writable({ letter, alter: wanted - midi(natural), octave });
}
