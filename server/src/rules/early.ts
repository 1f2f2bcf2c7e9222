/** What it is early to tell of a phrase while somebody writes at the end of one of its lines. */
import type { AboutNote, Problem, Range } from '../../../grammar/tree';
import { growingStretch } from '../analysis/blue';
import { mayStillBeExcused } from '../analysis/excuse';
import { placesOf } from '../analysis/places';
import { readPhrase } from '../analysis/read';
import { mayStillSlip } from '../analysis/side-slips';
import type { TheoryOptions } from '../analysis/types';
import type { Phrase, Writing } from '../model/types';

/** What is said of a note beside clashes is judged by so many after it. */
const AHEAD = 2;

/** Whether a problem may go with what is still being written at some end of a line. */
export function isEarly(problem: Problem, phrase: Phrase, options: TheoryOptions): boolean {
  return phrase.writing.some((writing) => mayGo(problem, writing, phrase, options));
}

function mayGo(problem: Problem, { range, over }: Writing, phrase: Phrase, options: TheoryOptions): boolean {
  const { notes, item } = phrase;
  const { rule, about } = problem;
  if (touch(problem.range, range)) return true;
  if (rule === 'line-shorter-than-chords') return over !== null && touch(problem.range, over);
  if (rule === 'claim-refuted' || rule === 'claim-impossible') {
    // A claim that a note of before breaks is refuted whatever comes, but that nothing clashes is as early as the clash.
    const broken = (problem.related ?? []).filter((place) => place.range.end < range.start);
    const clashing = notes.find((note) => note.range.start === broken[0]?.range.start);
    if (clashing === undefined || problem.facts['claim'] !== 'no clash') return broken.length === 0;
    const sounding = readPhrase(phrase, options).notes[clashing.index]!.verdict?.sounding ?? null;
    return isAboutEarly({ note: clashing.index, sounding }, range.end, phrase, options);
  }
  if (about !== undefined) return isAboutEarly(about, range.end, phrase, options);
  // The numbering of a line is compared with the notes above it.
  return problem.range.start > range.end && item.rows.some((row) => row.kind === 'degrees' && touch(row.range, problem.range));
}

/** Whether what is held against a note is early; `end` is where it is written. */
function isAboutEarly(about: AboutNote, end: number, phrase: Phrase, options: TheoryOptions): boolean {
  const last = phrase.notes.findLastIndex(({ range: place }) => place.start <= end);
  return about.note <= last && (about.note >= last - AHEAD || mayBeForgiven(about, last, phrase, options));
}

/** Whether a note may still be excused, or turn out to be of a side-slip, or of a line in the blues scale, which is known by five notes. */
function mayBeForgiven(about: AboutNote, last: number, phrase: Phrase, options: TheoryOptions): boolean {
  const { context, notes, scales } = readPhrase(phrase, options);
  const places = placesOf(phrase, context);
  const sounding = about.sounding === null ? undefined : notes[about.note]!.soundings[about.sounding];
  return (
    growingStretch(phrase, context, places, last).includes(about.note) ||
    (sounding !== undefined && mayStillBeExcused(phrase.notes[about.note]!, sounding, last, { phrase, places })) ||
    mayStillSlip(about.note, last, { phrase, places, scales, notes })
  );
}

function touch(a: Range, b: Range): boolean {
  return a.start <= b.end && b.start <= a.end;
}
