import { anticipationOf } from '../anticipation';
import type { Reading, Sounding } from '../types';
import { connected } from '../vocabulary';
import type { Find, Found } from './device';
import type { Study } from './study';

/** A chord tone that stays over the change of chord, held or struck again, as a chord tone of the chord that comes in (common practice). */
export const commonTone: Find = (study) =>
  study.reading.notes.flatMap(({ note }) => [...heldAsChordTone(study.reading, note), ...struckAgain(study, note)]);

function heldAsChordTone(reading: Reading, note: number): Found[] {
  const { soundings } = reading.notes[note]!;
  return staysAsChordTone(soundings) ? [{ notes: [note], target: null, detail: figures(soundings[0]!, soundings[1]!) }] : [];
}

/** Whether a held note is a chord tone where it starts, and of the chord that it is first held into. */
export function staysAsChordTone([first, second]: readonly Sounding[]): boolean {
  return first !== undefined && second !== undefined && first.placement.role === 'chord-tone' && second.placement.role === 'chord-tone';
}

function struckAgain({ reading, places }: Study, note: number): Found[] {
  const { phrase, notes, context } = reading;
  const [own, next] = [phrase.notes[note]!, phrase.notes[note + 1]];
  if (next === undefined || next.midi !== own.midi || !connected(own, next, places)) return [];
  const { soundings } = notes[note]!;
  const [last, first] = [soundings[soundings.length - 1], notes[next.index]!.soundings[0]];
  if (
    last === undefined ||
    first === undefined ||
    last.placement.span === first.placement.span ||
    anticipationOf(own, { phrase, context, places }) !== null
  )
    return [];
  return staysAsChordTone([last, first]) ? [{ notes: [note], target: next.index, detail: figures(last, first) }] : [];
}

function figures(one: Sounding, other: Sounding): string {
  return `${one.placement.figure.number} to ${other.placement.figure.number}`;
}
