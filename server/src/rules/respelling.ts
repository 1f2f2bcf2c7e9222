/** A note of the line under another name. */
import type { TextEdit } from '../../../grammar/tree';
import type { Note } from '../model/types';
import { formatNoteName, midi, nearestOctave, pitchInText } from '../theory/pitch';
import type { NoteName } from '../theory/types';

/** The edit that spells a note by a name of the same sound; null where the line does not write it as a pitch of its own, or cannot write it so. */
export function respelling(note: Note, name: NoteName): TextEdit | null {
  const { head } = note.node;
  if (head.kind !== 'pitch' || note.cell !== null) return null;
  const pitch = nearestOctave(name, note.midi);
  const text = head.octave === null ? formatNoteName(name) : pitchInText(pitch);
  return text !== null && midi(pitch) === note.midi ? { range: head.range, text } : null;
}

/** `D# as Eb`. */
export function spellWords(from: NoteName, to: NoteName): string {
  return `${formatNoteName(from)} as ${formatNoteName(to)}`;
}
