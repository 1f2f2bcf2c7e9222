/** A phrase in one line, to stand above it: where it is, what its notes are, and what is to be said against it. */
import type { Problem } from '../../../grammar/tree';
import type { Reading } from '../analysis/types';
import { problemsOf } from '../rules/findings';
import { capital } from '../rules/words';
import { summaryOf } from './summary';
import { plural } from './note-words';
import { shortSetting } from './setting-words';
import { settingClause } from './walkthrough';

/** What stands above a phrase is read at a glance, and an editor does not break it. A line with many findings and a long setting may be a few letters longer. */
const LONGEST_LINE = 110;

/** `syntax` are the problems of the phrase’s text, which a reading does not know; `waits` says of which it is not told yet. */
export function oneLine(reading: Reading, syntax: readonly Problem[], waits: (problem: Problem) => boolean = () => false): string {
  const { lowest, highest } = summaryOf(reading);
  const notes = notesClause(reading);
  const findings = findingsClause(reading, syntax, waits);
  const range = lowest === null ? [] : [`range ${lowest === highest ? lowest : `${lowest}–${highest}`}`];
  const where = settingClause(reading, shortSetting(reading));
  // What is to be said against it comes first: a narrow editor shows no more.
  const line = (notesSaid: string): string => capital([...findings, `${where}: ${[notesSaid, ...range].join('; ')}`].join('; '));
  // Where there is no room for all kinds of notes, one number stands for them; nothing else goes, for a line that loses its end from edit to edit seems broken.
  const whole = line(notes);
  return whole.length <= LONGEST_LINE ? whole : line(chordTonesClause(reading));
}

/** `8 chord tones, 1 tension of 9 notes`. */
function notesClause(reading: Reading): string {
  const { notes, chordTones, tensions, avoidNotes, outside, blue } = summaryOf(reading).all;
  if (notes === 0)
    return `${plural(reading.phrase.notes.length, 'note')}, ${reading.phrase.spans.some(({ chord }) => chord !== null) ? 'none over a chord' : 'no chord'}`;
  if (chordTones === notes) return notes === 1 ? '1 note, a chord tone' : `${notes} notes, all chord tones`;
  const counted: readonly (readonly [number, string])[] = [
    [chordTones, plural(chordTones, 'chord tone')],
    [tensions, plural(tensions, 'tension')],
    [blue, plural(blue, 'blue note')],
    [avoidNotes, plural(avoidNotes, 'avoid note')],
    [outside, `${outside} outside`],
  ];
  return `${counted
    .filter(([count]) => count > 0)
    .map(([, words]) => words)
    .join(', ')} of ${plural(notes, 'note')}`;
}

/** `8 chord tones of 9 notes`, where there is no room for more. */
function chordTonesClause(reading: Reading): string {
  const { notes, chordTones } = summaryOf(reading).all;
  return chordTones === 0
    ? `no chord tone among ${plural(notes, 'note')}`
    : `${plural(chordTones, 'chord tone')} of ${plural(notes, 'note')}`;
}

/** Notes that clash, then whatever else is wrong. Empty where no note could clash and nothing is wrong. */
function findingsClause(reading: Reading, syntax: readonly Problem[], waits: (problem: Problem) => boolean): string[] {
  const all = [...syntax, ...reading.phrase.problems, ...problemsOf(reading)];
  const problems = all.filter((problem) => !waits(problem));
  const clashes = problems.filter(({ rule }) => rule === 'clash').length;
  const others = (wanted: Problem['severity']): number =>
    problems.filter(({ rule, severity }) => severity === wanted && rule !== 'clash').length;
  const [errors, warnings] = [others('error'), others('warning')];
  const clauses = [
    // As long as a clash waits, it is not said that there is none.
    ...(reading.notes.every(({ placement }) => placement === null) ||
    (clashes === 0 && all.some((problem) => problem.rule === 'clash' && waits(problem)))
      ? []
      : [clashes === 0 ? 'nothing clashes' : clashes === 1 ? '1 note clashes' : `${clashes} notes clash`]),
    ...(errors === 0 ? [] : [plural(errors, 'error')]),
    ...(warnings === 0 ? [] : [plural(warnings, 'warning')]),
  ];
  return clauses.length === 0 ? [] : [clauses.join(', ')];
}
