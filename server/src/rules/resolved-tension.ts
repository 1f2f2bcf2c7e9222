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
  check: (reading) =>
    verdictProblems(reading, 'resolved-tension', (verdict) => verdict.level === 'hint' && verdict.reason !== 'borrowed-leap'),
};
