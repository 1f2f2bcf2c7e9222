/** Find the one wrong note: a note is moved so that the analysis flags it, and nothing else. */
import type { Reading } from '../analysis/types';
import { readable } from '../assists/writing/plan';
import { soundsOf } from '../assists/writing/score';
import { saidFigure } from '../analysis/shown-figure';
import { pictureData } from '../handout/picture-data';
import { capital } from '../rules/words';
import { transposePitch } from '../theory/interval';
import { faultsOf, nameAsRead, placeWords, withLine, type Make } from './exercise';

/** How far a note is moved: letters and half steps. A slip of the pen is a step. */
const MOVES = [
  [1, 1],
  [-1, -1],
  [1, 2],
  [-1, -2],
] as const;

export const wrongNote: Make = (material, random) => {
  const { placed, reading } = material;
  if (faultsOf(reading).length > 0) return null;
  const { phrase } = reading;
  const tries = phrase.notes
    .filter(({ marks, cell }) => cell === null && marks.length === 0)
    .flatMap((note) => MOVES.map((move) => ({ note, move })));
  for (const {
    note,
    move: [diatonic, chromatic],
  } of random.shuffled(tries).slice(0, MOST_TRIES)) {
    const pitch = readable(phrase, transposePitch(note.pitch, { diatonic, chromatic }), note.onset);
    const moved = withLine(
      material,
      soundsOf(phrase).map((sound, i) => (i === note.index ? { ...sound, pitch } : sound)),
    );
    if (moved === null || !hasOneWrong(moved, note.index)) continue;
    const wrong = moved.phrase.notes[note.index]!;
    const options = { degrees: false, devices: false };
    const finding = { severity: 'warning' as const, note: note.index, start: wrong.range.start, end: wrong.range.end };
    return {
      kind: 'wrong-note',
      phrase: placed.phrase.name,
      prompt: 'One note of this line is wrong. Circle it, and write the note that belongs there.',
      asked: [{ reading: moved, data: pictureData(moved, []), options }],
      answered: [{ reading: moved, data: pictureData(moved, [finding]), options }],
      answer: `${capital(placeWords(note))}: ${nameAsRead(moved, wrong.pitch)} is the ${figureOf(moved, note.index)} of its chord and clashes. The line has ${nameAsRead(reading, note.pitch)} there, the ${figureOf(reading, note.index)}.`,
    };
  }
  return null;
};

/** Each is a reading of the phrase; a note in ten at least will do. */
const MOST_TRIES = 40;

/** Whether a note clashes, and that is all that is wrong. */
export function hasOneWrong(reading: Reading, note: number): boolean {
  const faults = faultsOf(reading);
  return faults.length === 1 && faults[0]!.rule === 'clash' && faults[0]!.note === note;
}

function figureOf(reading: Reading, note: number): string {
  const { placement } = reading.notes[note]!;
  return placement === null ? 'note' : saidFigure(reading, placement);
}
