/** The key a phrase is in, and the other eleven it may be taken to. */
import { chroma, parseNoteName } from '../theory/pitch';
import { scale } from '../theory/scale';
import type { Key } from '../theory/types';
import type { Reading } from './types';

/** The keys, each a fifth below the one before, spelled with as few accidentals as may be. */
const CYCLE: Readonly<Record<Key['mode'], readonly string[]>> = {
  major: ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'],
  minor: ['C', 'F', 'Bb', 'Eb', 'G#', 'C#', 'F#', 'B', 'E', 'A', 'D', 'G'],
};

/** The key a phrase is in: the one it names, else the one its chords tell. */
export function homeKey({ phrase, context }: Reading): Key | null {
  return phrase.key ?? context.tonic;
}

/** The pitch classes of a key; in minor, natural minor with the raised 6 and 7. */
export function keySounds({ tonic, mode }: Key): ReadonlySet<number> {
  const names = mode === 'major' ? (['ionian'] as const) : (['aeolian', 'melodic minor'] as const);
  return new Set(names.flatMap((name) => [...scale(tonic, name).sounds]));
}

/** The tonics of the other eleven keys of a mode: round the cycle of fifths, or up by half steps. */
export function otherTonics(key: Key, order: 'cycle' | 'half-steps'): string[] {
  const cycle = CYCLE[key.mode];
  const sound = (name: string): number => chroma(parseNoteName(name)!);
  const here = cycle.findIndex((name) => sound(name) === chroma(key.tonic));
  const round = cycle.map((_, i) => cycle[(here + i + 1) % 12]!).slice(0, 11);
  const above = (name: string): number => (sound(name) - chroma(key.tonic) + 12) % 12;
  return order === 'cycle' ? round : round.sort((a, b) => above(a) - above(b));
}
