import type { Fraction } from '../../model/fraction';
import { formatFigure } from '../../theory/figure';
import type { Find } from './device';
import type { Event } from './study';

/** Figures that teachers name by their numbers, counted from the chord's root; in this order or backward (common practice). */
const CELLS = [
  '1-2-3-5',
  '1-2-3-1',
  '3-5-7-9',
  '1-3-5-7',
  '5-6-7-9',
  '1-2-b3-5',
  'b3-5-b7-9',
  '1-b3-5-b7',
  '1-3-5-b7',
  '3-5-b7-9',
  '3-5-b7-b9',
  '1-2-3-4',
  '5-4-3-2',
];

const ALL = new Map(
  CELLS.flatMap((text) => [
    [text, text],
    [text.split('-').reverse().join('-'), text],
  ]),
);

export const cell: Find = ({ events, places }) =>
  events.flatMap((first) => {
    if (first.chord === null || !places.isOnBeat(first.onset)) return [];
    const run = events.slice(first.index, first.index + 4);
    if (run.length < 4 || run.slice(1).some((event) => event.opens) || run.some((event) => event.span !== first.span)) return [];
    const length = lengthOf(first);
    if (run.slice(0, 3).some((event) => !lengthOf(event).equals(length))) return [];
    const figures = run.map(plainFigure).join('-');
    const listed = ALL.get(figures);
    return listed === undefined
      ? []
      : [
          {
            notes: run.map((event) => event.notes[0]!),
            target: null,
            detail: listed === figures ? figures : `${figures} (${listed} backward)`,
          },
        ];
  });

function lengthOf(event: Event): Fraction {
  return event.end.sub(event.onset);
}

/** 9, 11 as 2, 4 where they stand beside the root; the list writes 9 only on top of a stack of thirds. */
function plainFigure(event: Event, _: number, run: readonly Event[]): string {
  const { figure } = event.read.placement!;
  const stacked = run.every((other, i) => i === 0 || Math.abs(other.midi - run[i - 1]!.midi) >= 3);
  const number = !stacked && (figure.number === 9 || figure.number === 11 || figure.number === 13) ? figure.number - 7 : figure.number;
  return formatFigure({ number: number as typeof figure.number, alter: figure.alter });
}
