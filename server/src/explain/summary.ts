/** A phrase in numbers: what its notes are, over all and on strong beats, its range and its largest leap. */
import type { Reading, Role } from '../analysis/types';
import { formatPitch } from '../theory/pitch';

export interface Shares {
  readonly notes: number;
  readonly chordTones: number;
  readonly tensions: number;
  readonly avoidNotes: number;
  readonly outside: number;
  readonly blue: number;
}

export interface Summary {
  /** Counts over all notes that stand over a chord. */
  readonly all: Shares;
  readonly strong: Shares;
  readonly lowest: string | null;
  readonly highest: string | null;
  /** In half steps, between neighbours. */
  readonly largestLeap: number;
  /** Notes a beat, over the beats from the first note to the last one's end; two places. */
  readonly density: number;
}

export function summaryOf({ phrase, notes }: Reading): Summary {
  const roles = notes.flatMap(({ placement, strong }) => (placement === null ? [] : [{ role: placement.role, strong }]));
  const byHeight = [...phrase.notes].sort((a, b) => a.midi - b.midi);
  const leaps = phrase.notes.slice(1).map((note, i) => Math.abs(note.midi - phrase.notes[i]!.midi));
  const [low] = byHeight;
  const high = byHeight[byHeight.length - 1];
  return {
    all: shares(roles.map(({ role }) => role)),
    strong: shares(roles.filter(({ strong }) => strong).map(({ role }) => role)),
    lowest: low === undefined ? null : formatPitch(low.pitch),
    highest: high === undefined ? null : formatPitch(high.pitch),
    largestLeap: leaps.reduce((most, leap) => Math.max(most, leap), 0),
    density: densityOf(phrase),
  };
}

function densityOf({ notes, bars }: Reading['phrase']): number {
  const first = notes[0];
  const last = notes[notes.length - 1];
  const beat = bars[0]?.meter.beat;
  if (first === undefined || last === undefined || beat === undefined) return 0;
  const beats = last.onset.add(last.duration).sub(first.onset).div(beat);
  return Math.round((notes.length / beats.valueOf()) * 100) / 100;
}

function shares(roles: readonly Role[]): Shares {
  const count = (wanted: Role): number => roles.filter((role) => role === wanted).length;
  return {
    notes: roles.length,
    chordTones: count('chord-tone'),
    tensions: count('tension'),
    avoidNotes: count('avoid'),
    outside: count('outside'),
    blue: count('blue'),
  };
}
