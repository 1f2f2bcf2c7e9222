import { devicesAt } from '../analysis/devices/read';
import { opening, reasonWords, resolution } from './clash';
import { verdictProblems } from './clash-facts';
import type { AnalysisRule } from './rule';

export const resolvedTension: AnalysisRule = {
  id: 'resolved-tension',
  severity: 'hint',
  what: 'An avoid note or a note outside the chord-scale stands on a strong beat (or is held long), and resolves: the device is named, where one tells it.',
  why: 'This is tension used well. It is worth pointing out to a student, and worth knowing that it is there.',
  example: 'phrase "Leaning"\n  key  C major\n  over | Cmaj7 |\n  line | F4-E G A G |\n',
  instead: 'phrase "Leaning"\n  key  C major\n  over | Cmaj7 |\n  line | E4-F G A G |\n',
  fix: 'Nothing to do.',
  message: (facts) => `${opening(facts)}: ${reasonWords(facts)}. It ${resolution(facts)}.`,
  // Notes that close in on a target by half steps are one figure, and none of them leans.
  check: (reading) =>
    verdictProblems(
      reading,
      'resolved-tension',
      (verdict, note) =>
        verdict.level === 'hint' &&
        verdict.reason !== 'borrowed-leap' &&
        !devicesAt(reading, note).some(({ kind, notes }) => kind === 'double-chromatic' && notes.includes(note)),
    ),
};
