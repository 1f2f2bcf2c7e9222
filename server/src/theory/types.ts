/** The values of the theory: plain data, spelled as written. Half steps and letters always move together. */
import type { Letter } from '../../../grammar/tree';

/** A spelled note without octave. `alter` is in half steps (usually -2 to 2; transposition may go further). */
export interface NoteName {
  readonly letter: Letter;
  readonly alter: number;
}

/** A spelled note in an octave of scientific pitch notation: C4 is middle C (MIDI 60). B#3 is MIDI 60, Cb4 is 59. */
export interface Pitch extends NoteName {
  readonly octave: number;
}

/** A degree counted from the major scale on a root: { number: 3, alter: -1 } is b3. `number` is 1 to 7, or 9, 11, 13. */
export interface Figure {
  readonly number: 1 | 2 | 3 | 4 | 5 | 6 | 7 | 9 | 11 | 13;
  readonly alter: number;
}

export interface ChordTone {
  readonly figure: Figure;
  readonly name: NoteName;
  /** Half steps above the root, 0 to 11. */
  readonly interval: number;
  /** One of 1, 3 (or its sus note), 5 as written, and 7 or 6. */
  readonly basic: boolean;
}

/** The family of a chord: how it behaves, whatever its extensions. */
export type ChordFamily =
  | 'major'
  | 'minor'
  | 'diminished'
  | 'augmented' // triads
  | 'major-sixth'
  | 'minor-sixth'
  | 'major-seventh'
  | 'dominant'
  | 'minor-seventh'
  | 'half-diminished'
  | 'diminished-seventh'
  | 'minor-major-seventh'
  | 'augmented-seventh' // a dominant with a raised fifth
  | 'augmented-major-seventh'
  | 'altered'
  | 'suspended'
  | 'power';

export interface Chord {
  /** As written (Roman numerals resolved to a symbol). */
  readonly symbol: string;
  readonly root: NoteName;
  readonly family: ChordFamily;
  /** All written tones with the root first, in ascending figure order; the slash bass is not among them. */
  readonly tones: readonly ChordTone[];
  readonly bass: NoteName | null;
  /** What is written above the seventh or changed, e.g. b9, #11, 13: ascending. */
  readonly alterations: readonly Figure[];
  /** The MusicXML 4.0 `kind` value that fits best (data type kind-value). */
  readonly kind: string;
}

export interface Scale {
  readonly name: ScaleName;
  readonly root: NoteName;
  /** Ascending from the root, spelled. */
  readonly tones: readonly { readonly figure: Figure; readonly name: NoteName; readonly interval: number }[];
  /** The pitch classes of its tones, 0 (C) to 11. */
  readonly sounds: ReadonlySet<number>;
}

export type ScaleName =
  | 'ionian'
  | 'dorian'
  | 'phrygian'
  | 'lydian'
  | 'mixolydian'
  | 'aeolian'
  | 'locrian'
  | 'melodic minor'
  | 'dorian b2'
  | 'lydian augmented'
  | 'lydian dominant'
  | 'mixolydian b13'
  | 'locrian natural 9'
  | 'altered'
  | 'harmonic minor'
  | 'mixolydian b9 b13'
  | 'whole tone'
  | 'whole-half diminished'
  | 'half-whole diminished'
  | 'major pentatonic'
  | 'minor pentatonic'
  | 'minor blues'
  | 'major blues'
  | 'bebop dominant'
  | 'bebop major'
  | 'bebop dorian';

export interface Key {
  readonly tonic: NoteName;
  readonly mode: 'major' | 'minor';
}

export type PartName =
  | 'concert'
  | 'piano'
  | 'flute'
  | 'clarinet'
  | 'soprano-sax'
  | 'alto-sax'
  | 'tenor-sax'
  | 'baritone-sax'
  | 'trumpet'
  | 'trombone'
  | 'guitar'
  | 'bass'
  | 'voice';

export interface Part {
  readonly name: PartName;
  readonly label: string;
  /** Written range. */
  readonly low: Pitch;
  readonly high: Pitch;
  /** MusicXML `transpose`: added to the written note to get the sounding one. */
  readonly transpose: { readonly diatonic: number; readonly chromatic: number; readonly octaves: number };
  readonly clef: 'G' | 'F';
  /** General MIDI program, counted from 1. */
  readonly program: number;
}

/** A Roman numeral read in a key: the chord it is there, and the text that sounds it (`Gm7`). */
export type Unread =
  /** No chord could be read; `suggestions` are whole symbols, nearest first; `why` is a short reason to put in a sentence. */
  { readonly suggestions: readonly string[]; readonly why: string };
