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

/** A letter's place on the line of fifths, from C. */
const FIFTHS = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5 } as const;

/** The accidentals of a key's signature: sharps above 0, flats below. */
export function fifthsOf({ tonic, mode }: Key): number {
  return FIFTHS[tonic.letter] + 7 * tonic.alter - (mode === 'minor' ? 3 : 0);
}
