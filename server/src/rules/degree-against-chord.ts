import { flatMap } from '../../../grammar/flat-map';
import type { Problem } from '../../../grammar/tree';
import { formatFigure } from '../theory/figure';
import { formatNoteName } from '../theory/pitch';
import type { AnalysisRule } from './rule';

export const degreeAgainstChord: AnalysisRule = {
  id: 'degree-against-chord',
  severity: 'information',
  what: 'A third, fifth or seventh written as a degree is not the chord’s own.',
  why: 'It may be meant, but `3`, `5` and `7` alone name the chord’s own tones, and a slip of the pen looks the same.',
  example: 'phrase "Against"\n  over | Gm7 |\n  line | 1 2 n3 5 |\n',
  instead: 'phrase "Against"\n  over | Gm7 |\n  line | 1 2 3 5 |\n',
  fix: 'Write the figure without its accidental for the chord’s own tone, or leave it if you mean it.',
  message: (facts) =>
    `${facts['figure']} over ${facts['chord']} is ${facts['note']}; the chord’s own ${facts['number']} is ${facts['own']}.`,
  check: (reading) =>
    flatMap(reading.phrase.notes, (note): Problem[] => {
      const { head } = note.node;
      const placement = reading.notes[note.index]!.placement;
      if (head.kind !== 'degree' || head.accidental === '' || ![3, 5, 7].includes(head.number)) return [];
      if (note.marks.includes('intended') || reading.slips.has(note.index)) return [];
      const span = note.span === null ? null : reading.phrase.spans[note.span]!;
      const own = span?.chord?.tones.find((tone) => tone.figure.number === head.number);
      if (span == null || own === undefined || placement === null || placement.role === 'chord-tone') return [];
      return [
        {
          rule: 'degree-against-chord',
          severity: 'information',
          range: note.range,
          facts: {
            figure: `${head.accidental}${head.number}`,
            chord: span.symbol,
            note: formatNoteName(note.pitch),
            number: head.number,
            own: formatNoteName(own.name) + (formatFigure(own.figure) === `${head.number}` ? '' : ` (${formatFigure(own.figure)})`),
          },
          fixes:
            note.cell === null
              ? [
                  {
                    title: `Write ${head.number} (${formatNoteName(own.name)})`,
                    safe: false,
                    edits: [{ range: head.range, text: String(head.number) }],
                  },
                ]
              : [],
          related: [{ range: span.range, text: `The chord: ${span.symbol}.` }],
          about: { note: note.index, sounding: null },
        },
      ];
    }),
};
