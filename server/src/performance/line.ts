/** The sounds of the line: one a note. */
import type { Fraction } from '../model/fraction';
import type { Note } from '../model/types';
import type { Score } from './score';
import type { CursorStep, Sound } from './types';

/**
 * Seconds by which a note on the beat comes after the accompaniment in swing. Soloists lay back on the beat and meet the cymbal
 * on the offbeat (Friberg and Sundström 2002, from memory), by more than this at slow tempos: a value to hear, not to notice.
 */
export const LAY_BACK = 0.012;

/** Where a pass stands in the take. */
export interface Playing {
  /** Seconds from the start of the take. */
  readonly seconds: (time: Fraction) => number;
  /** Half steps. */
  readonly shift: number;
  /** Long to short; 1 is straight. */
  readonly ratio: number;
  readonly pass: number;
}

export function lineOf({ notes }: Score, { seconds, shift, ratio, pass }: Playing): { sounds: Sound[]; cursor: CursorStep[] } {
  const played = notes.map(({ note, from, to, onBeat }) => {
    const start = seconds(from);
    const end = seconds(to);
    const length = (end - start) * (note.marks.includes('short-accent') ? 0.5 : 1);
    // A very short note is late by half of itself at most, so that something of it is left.
    const late = ratio > 1 && onBeat ? Math.min(LAY_BACK, length / 2) : 0;
    return { note, end, at: start + late, length: length - late };
  });
  return {
    sounds: played.map(
      ({ note, at, length }): Sound => ({
        voice: 'line',
        at,
        length,
        midi: [note.midi + shift],
        velocity: velocityOf(note),
        accent: false,
      }),
    ),
    cursor: played.map(({ note, at, end }, i) => ({ note: note.index, pass, at, until: Math.min(end, played[i + 1]?.at ?? end) })),
  };
}

/** A ghost note is swallowed even where it is accented. */
function velocityOf({ marks }: Note): number {
  if (marks.includes('ghost')) return 0.4;
  return marks.includes('accent') || marks.includes('short-accent') ? 0.9 : 0.7;
}
