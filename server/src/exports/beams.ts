/** Beams: which flagged notes are joined, and at which levels, in the terms of MusicXML 4.0 (`beam-value`). */
import { Fraction } from '../model/fraction';
import type { Meter } from '../model/types';

/** A written note or rest, as far as beams ask. */
export interface Flagged {
  readonly onset: Fraction;
  /** How many flags its note value has: 1 for an eighth, 2 for a 16th; 0 for longer ones. */
  readonly flags: number;
  readonly isRest: boolean;
}

export type BeamValue = 'begin' | 'continue' | 'end' | 'forward hook' | 'backward hook';

const FLAGGED = ['eighth', '16th', '32nd', '64th', '128th', '256th', '512th'];

/** The flags of a note value by its MusicXML name. */
export function flagsOf(type: string): number {
  return FLAGGED.indexOf(type) + 1;
}

/** For each of a bar's notes and rests, its beams from the first level down: notes of one beat are joined, a rest or an unflagged note parts them. */
export function beamsOf(pieces: readonly Flagged[], barOnset: Fraction, meter: Meter): BeamValue[][] {
  const length = joinedLength(meter);
  const beams: BeamValue[][] = pieces.map(() => []);
  let run: number[] = [];
  const close = (): void => {
    if (run.length > 1)
      run.forEach((piece, i) => {
        beams[piece] = beamsIn(
          run.map((one) => pieces[one]!.flags),
          i,
        );
      });
    run = [];
  };
  let beat: Fraction | null = null;
  pieces.forEach(({ onset, flags, isRest }, i) => {
    const own = onset.sub(barOnset).div(length).floor();
    if (beat === null || !own.equals(beat) || isRest || flags === 0) close();
    beat = own;
    if (!isRest && flags > 0) run.push(i);
  });
  close();
  return beams;
}

/** Beats are joined; where they are eighths or shorter, quarters of the bar are, and three of them as one. */
function joinedLength({ beat, beats, length }: Meter): Fraction {
  if (beat.compare(1) >= 0) return beat;
  return beats === 3 ? length : new Fraction(1);
}

/** The beams of the note at a place of a joined run, level by level. */
function beamsIn(flags: readonly number[], at: number): BeamValue[] {
  return Array.from({ length: flags[at]! }, (_, level) => {
    const before = at > 0 && flags[at - 1]! > level;
    const after = at + 1 < flags.length && flags[at + 1]! > level;
    if (before) return after ? 'continue' : 'end';
    if (after) return 'begin';
    // A level that no neighbour shares is a stub, turned into the run.
    return at === 0 ? 'forward hook' : 'backward hook';
  });
}
