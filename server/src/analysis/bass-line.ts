/** The line that slash chords draw in the bass. */
import type { ChordSpan } from '../model/types';
import { chroma, soundClass } from '../theory/pitch';
import type { NoteName } from '../theory/types';

const LEAST = 3;
/** Of so many chords of it the symbol writes another bass than the root. */
const LEAST_SLASHES = 2;

/** Half steps from one bass note to the next by the shorter way, -5 to 6. */
export function bassMove(from: NoteName, to: NoteName): number {
  const up = soundClass(chroma(to) - chroma(from));
  return up > 6 ? up - 12 : up;
}

/** The longest stretch of three bass notes or more that goes by step one way through slash chords; empty where there is none. */
export function bassLine(spans: readonly Pick<ChordSpan, 'chord'>[]): readonly NoteName[] {
  const chords = spans.flatMap(({ chord }) => chord ?? []);
  const lowest = chords.map(({ bass, root }) => ({ name: bass ?? root, slashes: bass === null ? 0 : 1 }));
  let best: readonly NoteName[] = [];
  for (let first = 0; first + LEAST <= lowest.length; first += 1) {
    let last = first;
    const way = lowest[first + 1] === undefined ? 0 : Math.sign(bassMove(lowest[first]!.name, lowest[first + 1]!.name));
    const goesOn = (index: number): boolean => {
      const size = lowest[index + 1] === undefined ? 0 : bassMove(lowest[index]!.name, lowest[index + 1]!.name) * way;
      return size === 1 || size === 2;
    };
    while (goesOn(last)) last += 1;
    const line = lowest.slice(first, last + 1);
    const isLine = line.length >= LEAST && line.reduce((sum, { slashes }) => sum + slashes, 0) >= LEAST_SLASHES;
    if (isLine && line.length > best.length) best = line.map(({ name }) => name);
    first = Math.max(first, last - 1);
  }
  return best;
}
