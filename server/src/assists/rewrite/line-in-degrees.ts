import { chordWrittenAt } from '../../analysis/vocabulary';
import type { Note, Phrase } from '../../model/types';
import { calledFigure, isSpelledStrangely } from '../../theory/called';
import { writeDegree } from '../../theory/figure';
import { formatPitch, midi, nearestOctave, nextAbove, nextBelow } from '../../theory/pitch';
import { dressed } from '../../../../grammar/printer';
import type { Direction, TextEdit } from '../../../../grammar/tree';
import type { Assist } from '../assist';
import { rowAtKeyword } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const lineInDegrees: Assist = {
  id: 'line-in-degrees',
  kind: 'refactor.rewrite.line',
  what: 'Writes a line of pitches in degrees of its chords, so that it can be moved to other chords. The first note keeps its octave.',
  offers(context) {
    const row = rowAtKeyword(context, 'line');
    const { phrase } = context.reading;
    if (row === null) return [];
    const own = phrase.notes.filter((note) => note.cell === null && note.range.start >= row.range.start && note.range.end <= row.range.end);
    const edits = own.filter((note) => note.node.head.kind === 'pitch' && note.index > 0).flatMap((note) => inDegrees(note, phrase));
    return sameSound(context, edits, 'Write the line in degrees');
  },
};

/** A note as a degree of the chord it starts over, with the sign that places it; as it is where no sign can, or where nobody says its degree (#1). */
function inDegrees(note: Note, phrase: Phrase): TextEdit[] {
  const chord = chordWrittenAt(phrase, note);
  if (chord === null) return [];
  if (isSpelledStrangely(chord, note.pitch, calledFigure(chord, note.pitch, { numbers: 'tensions', blue: false }))) return [];
  const from = phrase.notes[note.index - 1]!.midi;
  const places: readonly (readonly [Direction | null, number])[] = [
    [null, midi(nearestOctave(note.pitch, from))],
    ['up', midi(nextAbove(note.pitch, from))],
    ['down', midi(nextBelow(note.pitch, from))],
  ];
  const place = places.find(([, sound]) => sound === note.midi);
  if (place === undefined) return [{ range: note.node.head.range, text: formatPitch(note.pitch) }];
  return [{ range: note.range, text: dressed({ ...note.node, direction: place[0] }, writeDegree(chord, note.pitch)) }];
}
