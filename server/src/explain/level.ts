/** A suggested level, 1 (simple) to 5 (demanding), with its reasons, so that a collection can be graded. */
import type { Device } from '../analysis/devices/device';
import { devicesOf } from '../analysis/devices/read';
import type { Reading } from '../analysis/types';
import { summaryOf } from './summary';

export interface SuggestedLevel {
  readonly level: 1 | 2 | 3 | 4 | 5;
  readonly reasons: readonly string[];
}

/** Points for what makes a line hard to hear and to play; common practice, weighed by hand. */
export function levelOf(reading: Reading): SuggestedLevel {
  const summary = summaryOf(reading);
  const { all } = summary;
  const beats = summary.density;
  // Chord tones that happen to lie around the next chord's third make no line harder.
  const isForeignWrap = ({ kind, notes }: Device): boolean =>
    (kind === 'enclosure' || kind === 'double-chromatic') && notes.some((note) => reading.notes[note]!.placement?.role !== 'chord-tone');
  const found: { points: number; reason: string }[] = [];
  const note = (points: number, reason: string): void => void found.push({ points, reason });
  const chromatic = all.outside + reading.notes.filter(({ placement }) => placement?.borrowed === true).length;
  if (beats > 1.4) note(1, 'mostly eighths');
  if (beats > 2.2) note(1, 'faster than eighths');
  if (reading.phrase.tempo.bpm >= 160) note(1, `${reading.phrase.tempo.bpm} beats a minute`);
  if (all.notes > 0 && all.chordTones < all.notes * 0.6) note(1, 'many notes besides chord tones');
  if (chromatic > 0) note(chromatic > 3 ? 2 : 1, 'chromatic or borrowed notes');
  if (devicesOf(reading).some(isForeignWrap)) note(1, 'enclosures');
  if (summary.largestLeap > 9) note(1, 'wide leaps');
  if (reading.phrase.notes.some(({ onset }) => onset.d % 3n === 0n)) note(1, 'triplets');
  const level = Math.min(5, 1 + found.reduce((sum, { points }) => sum + points, 0)) as SuggestedLevel['level'];
  return { level, reasons: found.length === 0 ? ['chord tones in plain rhythm'] : found.map(({ reason }) => reason) };
}
