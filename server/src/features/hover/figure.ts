/** The hover of a figure in a `degrees` row: whether it is right, then the note it numbers. */
import type { Reading } from '../../analysis/types';
import type { WrittenFigure } from '../../model/types';
import { problemsOf } from '../../rules/findings';
import { ruleById } from '../../rules/registry';
import { noteHover } from './note';

export function figureHover(reading: Reading, figure: WrittenFigure): string {
  const { start, end } = figure.range;
  const written = `${figure.accidental}${figure.number}`;
  if (figure.note === null) return `\`${written}\` stands under no note.`;
  const wrong = problemsOf(reading).find(({ rule, range }) => rule === 'wrong-figure' && range.start === start && range.end === end);
  const judged = wrong === undefined ? `Your figure \`${written}\` is right.` : ruleById(wrong.rule)!.message(wrong.facts);
  return `${judged}\n\n${noteHover(reading, figure.note)}`;
}
