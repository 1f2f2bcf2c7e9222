/** Keys. */
import { chroma, formatNoteName } from './pitch';
import { scale } from './scale';
import type { Chord, Key, Scale } from './types';

/** `F major`. */
export function formatKey({ tonic, mode }: Key): string {
  return `${formatNoteName(tonic)} ${mode}`;
}

/** The major scale, or natural minor. */
export function keyScale({ tonic, mode }: Key): Scale {
  return scale(tonic, mode === 'major' ? 'ionian' : 'aeolian');
}

const NUMERALS = ['I', 'bII', 'II', 'bIII', 'III', 'IV', '#IV', 'V', 'bVI', 'VI', 'bVII', 'VII'];

/** The Roman numeral of a chord's root in a key, counted from the major scale, lower case for minor and diminished chords. */
export function functionInKey(chord: Chord, key: Key): string {
  const numeral = NUMERALS[(chroma(chord.root) - chroma(key.tonic) + 12) % 12]!;
  const minor = chord.tones.some((tone) => tone.interval === 3 && tone.basic) && !chord.tones.some((tone) => tone.interval === 4);
  return minor ? numeral.replace(/[IV]+/, (letters) => letters.toLowerCase()) : numeral;
}
