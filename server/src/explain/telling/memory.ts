/** What was told so far, so that it is not told again. */
import { plain } from '../say';
import type { Point } from './point';

export interface Memory {
  /** The words of the points that were told. */
  readonly words: Set<string>;
  /** The notes of those points, and where they lead. */
  readonly notes: Set<number>;
  /** By each note that was told to be led to, the notes that points told to lead there. */
  readonly leads: Map<number, Set<number>>;
}

export function emptyMemory(): Memory {
  return { words: new Set(), notes: new Set(), leads: new Map() };
}

export function remember({ words, notes, leads }: Memory, point: Pick<Point, 'words' | 'notes' | 'target'>): void {
  words.add(plain(point.words));
  for (const note of point.notes) notes.add(note);
  if (point.target === null) return;
  notes.add(point.target);
  leads.set(point.target, new Set([...(leads.get(point.target) ?? []), ...point.notes]));
}

/** Remembers where a clause leads: what leads there beside it may still be told. */
export function rememberTarget({ leads }: Memory, target: number): void {
  leads.set(target, leads.get(target) ?? new Set());
}

/** Whether it was told already that all notes of a point lead where it says. */
export function isLeadTold({ leads }: Memory, { target, notes }: Pick<Point, 'notes' | 'target'>): boolean {
  const told = target === null ? undefined : leads.get(target);
  return told !== undefined && notes.every((note) => told.has(note));
}
