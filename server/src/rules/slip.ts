/** An octave figure that is a slip of the pen: the note it carries off, and the notes behind it that are placed by it. */
import type { Fix } from '../../../grammar/tree';
import type { Note, Phrase } from '../model/types';
import { soundingRange } from '../theory/part';
import { formatPitch, midi, nameOf, nearestOctave } from '../theory/pitch';
import type { Pitch } from '../theory/types';

/** Two octaves, in half steps: lines leap by an octave and more, and hardly ever so far. */
export const FAR = 24;

/** A note whose octave figure may be wrong, and the pitch of its name that is nearest to the note before. */
export interface Slip {
  readonly note: Note;
  readonly meant: Pitch;
}

export function slipOf(note: Note, before: Note): Slip {
  return { note, meant: nearestOctave(nameOf(note.pitch), midi(before.pitch)) };
}

/** Whether the octave of a note is written in the line, and not said to be intended. */
export function hasFigure({ node: { head }, marks }: Note): boolean {
  return head.kind === 'pitch' && head.octave !== null && !marks.includes('intended');
}

/** The fix that writes the figure that is meant; none where a cell, which other phrases may use, holds the note. */
export function figureFixes({ note, meant }: Slip): Fix[] {
  const { head } = note.node;
  if (note.cell !== null || meant.octave < 0 || meant.octave > 9) return [];
  return [
    {
      title: `Write ${formatPitch(meant)}`,
      safe: false,
      preferred: true,
      edits: [{ range: { start: head.range.end - 1, end: head.range.end }, text: String(meant.octave) }],
    },
  ];
}

/**
 * The one figure that carries notes of a phrase out of its part's range: two octaves or more from the note before, and with the octave that
 * is meant every note is within the range. Null where there is none.
 */
export function slipOutOfRange({ part, notes }: Phrase): Slip | null {
  const range = soundingRange(part);
  const [low, high] = [midi(range.low), midi(range.high)];
  const fits = (sound: number): boolean => sound >= low && sound <= high;
  const outside = notes.findIndex(({ midi: sound }) => !fits(sound));
  for (let i = outside; i > 0; i -= 1) {
    const [note, before] = [notes[i]!, notes[i - 1]!];
    if (!hasFigure(note)) continue;
    if (Math.abs(note.midi - before.midi) < FAR) return null;
    const slip = slipOf(note, before);
    const next = notes.findIndex((other, k) => k > i && other.node.head.kind === 'pitch' && other.node.head.octave !== null);
    const moved = midi(slip.meant) - midi(note.pitch);
    return notes.every(({ midi: sound }, k) => fits(k >= i && (next === -1 || k < next) ? sound + moved : sound)) ? slip : null;
  }
  return null;
}
