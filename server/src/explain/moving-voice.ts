/** A line hidden in the line: its highest or lowest notes, a beat, two or a bar apart, go by half steps while the others stay under or over them. */
import { placesOf } from '../analysis/places';
import type { Reading } from '../analysis/types';
import type { Note } from '../model/types';

export interface MovingVoice {
  /** Indexes, four or more. */
  readonly notes: readonly number[];
  readonly at: 'top' | 'lowest';
  readonly way: 'climb' | 'fall';
}

/** Fewer half steps are heard as a resolution or two. */
const FEWEST = 4;
/** The first one of a phrase; null where there is none. */
export function movingVoice({ phrase, context }: Reading): MovingVoice | null {
  const places = placesOf(phrase, context);
  const at = new Map(phrase.notes.map((note) => [note.onset.toFraction(), note]));
  for (const first of phrase.notes) {
    if (!places.isOnBeat(first.onset)) continue;
    const {
      length,
      meter: { beat },
    } = places.barAt(first.onset);
    const isDownbeat = places.strengthAt(first.onset) === 3;
    // From one note of it to the next.
    for (const apart of [beat.mul(2), beat, ...(isDownbeat ? [length] : [])]) {
      for (const way of [-1, 1] as const) {
        const members = [first];
        for (
          let next = at.get(first.onset.add(apart).toFraction());
          next !== undefined && next.midi - members[members.length - 1]!.midi === way;
          next = at.get(next.onset.add(apart).toFraction())
        )
          members.push(next);
        const side = members.length < FEWEST ? null : sideOf(phrase.notes, members);
        if (side !== null) return { notes: members.map(({ index }) => index), at: side, way: way > 0 ? 'climb' : 'fall' };
      }
    }
  }
  return null;
}

/** Between each two of its notes stand others, all of them lower than both, or all higher; the first of the two may be struck again. */
function sideOf(notes: readonly Note[], members: readonly Note[]): MovingVoice['at'] | null {
  const gaps = members.slice(1).map((next, i) => ({
    ends: [members[i]!.midi, next.midi],
    between: notes
      .slice(members[i]!.index + 1, next.index)
      .map(({ midi }) => midi)
      .filter((midi) => midi !== members[i]!.midi),
  }));
  if (gaps.some(({ between }) => between.length === 0)) return null;
  if (gaps.every(({ ends, between }) => Math.max(...between) < Math.min(...ends))) return 'top';
  return gaps.every(({ ends, between }) => Math.min(...between) > Math.max(...ends)) ? 'lowest' : null;
}
