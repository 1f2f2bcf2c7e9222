/** Pitches written small: one finding for all of a row, whose fix writes the row in capitals. */
import type { DegreeHead, Group, NoteNode, Problem, TextEdit } from './tree';

/** How many capitals a message lists. */
const LISTED = 3;

/** The problems of a row, those of its lower-case pitches made one. */
export function gatherLowerCase(found: readonly Problem[], groups: readonly Group[], row: 'line' | 'cell'): readonly Problem[] {
  const small = found.filter(({ rule }) => rule === 'lower-case-pitch');
  if (small.length === 0) return found;
  const flats = flatsOf(groups);
  const hasOctaves = small.some(({ facts }) => /\d$/.test(String(facts['word'])));
  const isAllPitches = hasOctaves && flats.every(({ isFlat }) => isFlat);
  // `b4` beside `c4` and no other figures is the note B, though alone it is a flat fourth; else it may be either.
  const meant = isAllPitches
    ? flats.map(({ head }): TextEdit => ({ range: { start: head.range.start, end: head.range.start + 1 }, text: 'B' }))
    : [];
  const isSafe = isAllPitches || flats.every(({ isFlat }) => !isFlat);
  const edits = [...small.flatMap(({ fixes }) => fixes[0]!.edits), ...meant].sort((a, b) => a.range.start - b.range.start);
  const capitals = small.map(({ facts }) => String(facts['capital']));
  const title = edits.length === 1 ? `Write ${capitals[0]}` : `Write the ${row} in capitals`;
  const whole: Problem = {
    ...small[0]!,
    range: { start: edits[0]!.range.start, end: edits[edits.length - 1]!.range.end },
    facts: { count: small.length, capital: capitals.slice(0, LISTED).join(', '), more: Math.max(0, small.length - LISTED) },
    fixes: [{ title, safe: isSafe, preferred: true, edits }],
  };
  return found.flatMap((problem) => (problem === small[0] ? [whole] : small.includes(problem) ? [] : [problem]));
}

/** The figures of a row; those with a flat sign could be the note B written small. */
function flatsOf(groups: readonly Group[]): { head: DegreeHead; isFlat: boolean }[] {
  const notes = groups.flatMap((group) =>
    group.kind === 'cell' ? [] : group.slots.filter((slot): slot is NoteNode => slot.kind === 'note'),
  );
  return notes.flatMap(({ head }) => (head.kind === 'degree' ? [{ head, isFlat: /^bb?$/.test(head.accidental) && head.number < 10 }] : []));
}
