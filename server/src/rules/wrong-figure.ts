import type { Fix, Problem } from '../../../grammar/tree';
import { shownFigure } from '../analysis/shown-figure';
import type { Reading } from '../analysis/types';
import { chordOfPlacement } from '../analysis/vocabulary';
import type { WrittenFigure } from '../model/types';
import { calledFigure } from '../theory/called';
import { copyable, sameFigureSound } from '../theory/figure';
import { formatNoteName } from '../theory/pitch';
import type { Chord } from '../theory/types';
import type { AnalysisRule } from './rule';

export const wrongFigure: AnalysisRule = {
  id: 'wrong-figure',
  severity: 'error',
  what: 'A figure of the `degrees` row is not what its note is over its chord.',
  why: 'Students copy the numbering. Any name of the note’s sound is right (9 and 2, 13 and 6, #9 and b3 …); another sound is a mistake.',
  example: 'phrase "Numbers"\n  over    | Gm7 |\n  line    | Bb4 A G F |\n  degrees | b3 9 1 6 |\n',
  instead: 'phrase "Numbers"\n  over    | Gm7 |\n  line    | Bb4 A G F |\n  degrees | b3 9 1 b7 |\n',
  fix: 'Write the right figure.',
  message: (facts) => `${facts['note']} is not the ${facts['figure']} of ${facts['chord']}: it is the ${facts['right']}.`,
  check(reading) {
    const problems = reading.phrase.figures.flatMap((figure) => wrong(figure, reading));
    const figures = problems.filter(({ rule }) => rule === 'wrong-figure');
    if (figures.length < 2) return problems;
    const all: Fix = {
      title: `Set all ${figures.length} figures right`,
      safe: true,
      edits: figures.flatMap(({ fixes }) => fixes[0]!.edits),
    };
    return problems.map((problem) => (problem.rule === 'wrong-figure' ? { ...problem, fixes: [...problem.fixes, all] } : problem));
  },
};

function wrong(figure: WrittenFigure, reading: Reading): Problem[] {
  if (figure.note === null) return [];
  const note = reading.phrase.notes[figure.note]!;
  const placement = reading.notes[figure.note]!.placement;
  const own = note.span === null ? null : reading.phrase.spans[note.span]!;
  // An anticipation may be named over either chord.
  const chords = [chordOfPlacement(reading, placement), own?.chord ?? null].filter((chord): chord is Chord => chord !== null);
  const text = `${figure.accidental}${figure.number}`;
  if (chords.length === 0) {
    if (own !== null && own.symbol !== 'N.C.') return [];
    // That a line stands above its chords is told at the line.
    if (own === null && reading.phrase.problems.some(({ rule }) => rule === 'line-above-chords')) return [];
    return [
      {
        rule: 'figure-without-chord',
        severity: 'error',
        range: figure.range,
        facts: { figure: text },
        fixes: [],
        related: [],
        about: { note: note.index, sounding: null },
      },
    ];
  }
  if (chords.some((chord) => sameFigureSound(chord, figure, note.pitch))) return [];
  const right =
    placement === null
      ? copyable(chords[0]!, calledFigure(chords[0]!, note.pitch, { numbers: reading.numbers, blue: false }))
      : shownFigure(reading, placement);
  return [
    {
      rule: 'wrong-figure',
      severity: 'error',
      range: figure.range,
      facts: { note: formatNoteName(note.pitch), figure: text, chord: chords[0]!.symbol, right },
      fixes: [{ title: `Write ${right}`, safe: true, preferred: true, edits: [{ range: figure.range, text: right }] }],
      related: [{ range: note.range, text: `The note: ${formatNoteName(note.pitch)}.` }],
      about: { note: note.index, sounding: null },
    },
  ];
}
