/** A suggested level, 1 (simple) to 5 (demanding), with its reasons, so that a collection can be graded. */
import type { Reading } from '../analysis/types';
import { MEASURES } from './level-measures';

export interface SuggestedLevel {
  readonly level: 1 | 2 | 3 | 4 | 5;
  /** The sum behind it, from 0, to a tenth: it tells phrases of one level apart. */
  readonly points: number;
  /** What was counted, the weightiest first. */
  readonly reasons: readonly string[];
}

/** The points at which levels 2 to 5 begin. */
const STEPS = [1, 2.2, 4, 6] as const;

/** What adds less is counted and not told. */
const TOLD = 0.25;

/** A sum of `MEASURES`; common practice, weighed by hand. It may depend on the key, for a key signature is read and fingered. */
export function levelOf(reading: Reading): SuggestedLevel {
  if (reading.phrase.notes.length === 0) return { level: 1, points: 0, reasons: ['no notes'] };
  const counted = MEASURES.map(({ count, free, each, most }) => {
    const { amount, words } = count(reading);
    return { points: Math.min(most, Math.max(0, (amount - free) * each)), words };
  });
  const points = Math.round(counted.reduce((sum, one) => sum + one.points, 0) * 10) / 10;
  const level = (1 + STEPS.filter((step) => points >= step).length) as SuggestedLevel['level'];
  const weightiest = [...counted].sort((a, b) => b.points - a.points);
  // Many small points make a level too: then the first of them is told.
  const told = weightiest.filter((one, i) => one.points >= TOLD || (i === 0 && level > 1)).map(({ words }) => words);
  return { level, points, reasons: told.length === 0 ? ['plain in rhythm, range and harmony'] : told };
}
