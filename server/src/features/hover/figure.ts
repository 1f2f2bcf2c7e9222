/** The hover of a figure in a `degrees` row: whether it is right, then the note it numbers. */
import type { Reading } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { WrittenFigure } from '../../model/types';
import { problemsOf } from '../../rules/findings';
import { ruleById } from '../../rules/registry';
import { noteHover } from './note';

export function figureHover(reading: Reading, figure: WrittenFigure): string {
  const written = `${figure.accidental}${figure.number}`;
  if (figure.note === null) return `\`${written}\` stands under no note.`;
  const judged = guarded('whether a figure is right', [], () => [judgement(reading, figure, written)]);
  return [...judged, noteHover(reading, figure.note)].join('\n\n');
}

function judgement(reading: Reading, { range: { start, end } }: WrittenFigure, written: string): string {
  const wrong = problemsOf(reading).find(({ rule, range }) => rule === 'wrong-figure' && range.start === start && range.end === end);
  return wrong === undefined ? `Your figure \`${written}\` is right.` : ruleById(wrong.rule)!.message(wrong.facts);
}
