/** From note to note with the arrow keys, past phrases that have none to choose. */
import type { NotePlace } from '../../src/score/messages';

/** A phrase, as far as one goes through it. */
export interface Notes {
  readonly count: number;
  /** Its picture is out of date, and none of its notes can be chosen. */
  readonly isStale: boolean;
}

/** A system with the parts of each note, those that it is tied to among them. */
export interface System<Part> {
  readonly phrase: number;
  readonly places: ReadonlyMap<number, readonly Part[]>;
}

/** Where a part of a note stands: its middle from the left of its system, in the units of the picture. */
export interface Head {
  readonly middle: number;
  /** A part that another is tied to cannot be chosen. */
  readonly isFirst: boolean;
}

/** The note a step away; null at the ends. */
export function beside(phrases: readonly Notes[], { phrase, note }: NotePlace, step: 1 | -1): NotePlace | null {
  const next = note + step;
  if (next >= 0 && next < (phrases[phrase]?.count ?? 0)) return { phrase, note: next };
  for (let i = phrase + step; phrases[i] !== undefined; i += step) {
    const { count, isStale } = phrases[i]!;
    if (!isStale && count > 0) return { phrase: i, note: step === 1 ? 0 : count - 1 };
  }
  return null;
}

/** The note above or below: the nearest one in the system before or after that has any; null at the ends. */
export function level<Part>(
  systems: readonly System<Part>[],
  { phrase, note }: NotePlace,
  step: 1 | -1,
  headOf: (part: Part) => Head,
): NotePlace | null {
  const here = systems.findIndex((system) => system.phrase === phrase && system.places.has(note));
  const target = systems[here]?.places.get(note)?.[0];
  if (target === undefined) return null;
  const { middle } = headOf(target);
  for (let i = here + step; systems[i] !== undefined; i += step) {
    const near = [...systems[i]!.places].flatMap(([index, [first]]) => {
      const head = first === undefined ? undefined : headOf(first);
      return head?.isFirst === true ? [{ index, far: Math.abs(head.middle - middle) }] : [];
    });
    if (near.length > 0) return { phrase: systems[i]!.phrase, note: near.reduce((best, one) => (one.far < best.far ? one : best)).index };
  }
  return null;
}

export function edge(phrases: readonly Notes[], { phrase }: NotePlace, end: 'first' | 'last'): NotePlace {
  return { phrase, note: end === 'first' ? 0 : Math.max(0, (phrases[phrase]?.count ?? 1) - 1) };
}
