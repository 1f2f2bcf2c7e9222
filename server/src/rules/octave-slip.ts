import type { Problem } from '../../../grammar/tree';
import type { Note } from '../model/types';
import { formatPitch } from '../theory/pitch';
import type { AnalysisRule } from './rule';
import { FAR, figureFixes, hasFigure, slipOf, slipOutOfRange } from './slip';

export const octaveSlip: AnalysisRule = {
  id: 'octave-slip',
  severity: 'information',
  what: 'A note with an octave figure lies two octaves or more from the notes on both sides of it, or, as the last one, from the note before it.',
  why: 'It may be meant, but a slip of the pen in the octave figure looks the same.',
  example: 'phrase "Far"\n  over | Dm7 | G7 | Cmaj7 |\n  line | D4 F A C5 | B4 G F D | E7 ~ ~ ~ |\n',
  instead: 'phrase "Far"\n  over | Dm7 | G7 | Cmaj7 |\n  line | D4 F A C5 | B4 G F D | E4 ~ ~ ~ |\n',
  fix: 'Write the octave nearest to the note before, or mark the note as intended with `!`.',
  message: (facts) =>
    `${facts['note']} is ${facts['exact'] === 'yes' ? '' : 'more than '}${facts['octaves']} octaves ${facts['side']} the note before. Is ${facts['meant']} meant?`,
  check({ phrase }) {
    const { notes } = phrase;
    // Told as out of range.
    const told = slipOutOfRange(phrase)?.note;
    const problems: Problem[] = [];
    // A note after a slip is measured from the note before that.
    let before: Note | undefined;
    for (const note of notes) {
      if (before === undefined || !isSlip(note, before, notes[note.index + 1])) before = note;
      else if (note !== told) problems.push(problemOf(note, before));
    }
    return problems;
  },
};

function isSlip(note: Note, before: Note, after: Note | undefined): boolean {
  return hasFigure(note) && [before, after].every((other) => other === undefined || Math.abs(note.midi - other.midi) >= FAR);
}

function problemOf(note: Note, before: Note): Problem {
  const slip = slipOf(note, before);
  const away = note.midi - before.midi;
  const octaves = Math.floor(Math.abs(away) / 12);
  return {
    rule: 'octave-slip',
    severity: 'information',
    range: note.range,
    facts: {
      note: formatPitch(note.pitch),
      meant: formatPitch(slip.meant),
      octaves: COUNT[octaves] ?? octaves,
      exact: away % 12 === 0 ? 'yes' : 'no',
      side: away > 0 ? 'above' : 'below',
    },
    fixes: figureFixes(slip),
    related: [{ range: before.range, text: `The note before it: ${formatPitch(before.pitch)}.` }],
    about: { note: note.index, sounding: null },
  };
}

const COUNT: Readonly<Record<number, string>> = { 2: 'two', 3: 'three', 4: 'four', 5: 'five', 6: 'six' };
