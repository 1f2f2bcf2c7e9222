/** What it is early to tell of a phrase while somebody writes at the end of one of its lines. */
import type { Problem, Range } from '../../../grammar/tree';
import type { Phrase, Writing } from '../model/types';

/** A note is judged by so many after it. */
const AHEAD = 2;

/** Whether a problem may go with what is still being written at some end of a line. */
export function isEarly(problem: Problem, phrase: Phrase): boolean {
  return phrase.writing.some((writing) => mayGo(problem, writing, phrase));
}

function mayGo(problem: Problem, { range, over }: Writing, { notes, item }: Phrase): boolean {
  const { rule, about } = problem;
  if (touch(problem.range, range)) return true;
  if (rule === 'line-shorter-than-chords') return over !== null && touch(problem.range, over);
  // A claim that a note of before breaks is refuted whatever comes.
  if (rule === 'claim-refuted' || rule === 'claim-impossible')
    return !(problem.related ?? []).some((place) => place.range.end < range.start);
  if (about !== undefined) {
    const last = notes.findLastIndex(({ range: place }) => place.start <= range.end);
    return about.note <= last && about.note >= last - AHEAD;
  }
  // The numbering of a line is compared with the notes above it.
  return problem.range.start > range.end && item.rows.some((row) => row.kind === 'degrees' && touch(row.range, problem.range));
}

function touch(a: Range, b: Range): boolean {
  return a.start <= b.end && b.start <= a.end;
}
