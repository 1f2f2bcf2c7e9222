/** Which notes players read under two names (THEORY, section 4: Spelling). Common practice. */
import type { Chord, ChordFamily, Figure, NoteName } from './types';

/** Whether a note over a chord, `name` by its figure (null: the bass alone), is read as easily under another usual name, of one accidental at most: F over D7 for E#, Gb over C7 for F#. */
export function hasTwoNames(chord: Chord, figure: Figure | null, name: NoteName): boolean {
  return FREE_FAMILIES.has(chord.family) || !isPlain(name) || (figure !== null && isFree(figure, chord));
}

/** Their tones part the octave in equal steps, or come from a scale of altered notes. */
const FREE_FAMILIES: ReadonlySet<ChordFamily> = new Set(['diminished', 'diminished-seventh', 'augmented', 'augmented-seventh', 'altered']);

/** Cb, Fb, E#, B# and double accidentals are read as their simpler twins. */
function isPlain({ letter, alter }: NoteName): boolean {
  return Math.abs(alter) <= 1 && !(alter === -1 && 'CF'.includes(letter)) && !(alter === 1 && 'EB'.includes(letter));
}

/** #9 and b3, #11 and b5, #5 and b13 are one another's spellings; the flat five of a half-diminished chord is its fifth. */
function isFree({ number, alter }: Figure, { family }: Chord): boolean {
  if (number === 5) return alter !== 0 && family !== 'half-diminished';
  return (alter === 1 && (number === 9 || number === 11)) || (alter === -1 && number === 13);
}
