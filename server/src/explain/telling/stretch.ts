/** A stretch of the line, and what decides how its notes are heard. */
import type { Device } from '../../analysis/devices/device';
import type { Reading } from '../../analysis/types';
import { chroma } from '../../theory/pitch';
import { FEW } from '../device-words';
import type { Repeat } from './repeats';

export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** What it is told as: a device, what a bar before it did, motion in one direction, or the notes themselves. */
  readonly as: 'device' | 'repeat' | 'line' | 'plain';
  readonly device: Device | null;
  readonly repeat: Repeat | null;
}

/** The same of notes that go up and down. */
const FEW_WOVEN = 5;

export function mostFigures(as: Stretch['as']): number {
  return as === 'plain' ? FEW_WOVEN : FEW;
}

/** The notes of a stretch, by index. */
export function notesIn({ from, to }: Pick<Stretch, 'from' | 'to'>): number[] {
  const notes: number[] = [];
  for (let note = from; note <= to; note += 1) notes.push(note);
  return notes;
}

/** Notes that climb or fall by half steps, so many that it is heard. */
export const HALF_STEPS = 4;

/** A line that is told as half steps. */
export function isByHalfSteps({ phrase }: Reading, { from, to, as }: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  return (
    as === 'line' &&
    to - from + 1 >= HALF_STEPS &&
    phrase.notes.slice(from, to).every(({ midi, index }) => Math.abs(phrase.notes[index + 1]!.midi - midi) === 1)
  );
}

/** Whether two notes go on one way from the note before, over one chord and within a bar, and the line came to that the other way. */
export function turnsBefore({ phrase, notes }: Reading, from: number): boolean {
  const [before, peak, first, second] = [from - 2, from - 1, from, from + 1].map((note) => phrase.notes[note]);
  if (before === undefined || peak === undefined || first === undefined || second === undefined) return false;
  const isTogether =
    peak.bar === second.bar &&
    notes[peak.index]!.placement !== null &&
    [first, second].every(({ index }) => notes[index]!.placement?.span === notes[peak.index]!.placement!.span);
  const way = Math.sign(first.midi - peak.midi);
  return isTogether && way !== 0 && Math.sign(second.midi - first.midi) === way && Math.sign(peak.midi - before.midi) === -way;
}

/** Whether a finding tells a note. */
export function isFlagged({ notes }: Reading, note: number): boolean {
  const level = notes[note]!.verdict?.level;
  return level === 'warning' || level === 'information';
}

/** Whether a finding tells a stretch: one note that is flagged. */
export function isToldByFinding(reading: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): boolean {
  return from === to && isFlagged(reading, from);
}

/** A note out of its chord's scale that leads by half step to the note after it. */
export function isAstray({ phrase, notes, scales }: Reading, note: number): boolean {
  const { placement } = notes[note]!;
  const next = phrase.notes[note + 1];
  const scale = placement === null ? null : scales[placement.span];
  if (next === undefined || Math.abs(next.midi - phrase.notes[note]!.midi) !== 1 || scale == null || placement!.role === 'chord-tone')
    return false;
  return !scale.sounds.has(chroma(phrase.notes[note]!.pitch));
}
