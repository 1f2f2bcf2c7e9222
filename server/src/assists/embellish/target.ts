/** The chord tone that an embellishment leads to. */
import { chordOfPlacement, isBasicTone } from '../../analysis/vocabulary';
import type { Note } from '../../model/types';
import { goalOf } from '../../rules/clash-facts';
import type { Chord, Pitch, Scale } from '../../theory/types';
import type { AssistContext } from '../assist';
import { flaggedNote, placeOf } from '../writing/flagged';

/** A chord tone on a beat, where the line is to arrive. */
export interface Target {
  readonly pitch: Pitch;
  readonly chord: Chord;
  readonly scale: Scale | null;
  /** The note that stands there now: the target itself, or a flagged note. */
  readonly note: Note;
  readonly rule: string | null;
  readonly group: number;
}

/** The note under the cursor as a target: a basic tone of its chord on a beat, or what a flagged note should become. */
export function targetHere(context: AssistContext): Target | null {
  const { reading, note: index } = context;
  if (index === null) return null;
  const read = reading.notes[index]!;
  const place = placeOf(context, index);
  if (place === null || place.slot !== 0 || read.placement === null || read.pickup) return null;
  const flagged = flaggedNote(context);
  const sounding = flagged === null ? read.soundings[0]! : read.soundings[read.verdict!.sounding]!;
  const chord = chordOfPlacement(reading, sounding.placement);
  const note = reading.phrase.notes[index]!;
  if (chord === null || sounding.held || note.beat.includes('+')) return null;
  const pitch = flagged === null ? note.pitch : goalOf(reading, read, sounding);
  if (pitch === null || !isBasicTone(chord, pitch)) return null;
  return { pitch, chord, scale: reading.scales[sounding.placement.span] ?? null, note, rule: flagged?.rule ?? null, group: place.group };
}
