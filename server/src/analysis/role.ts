/** What a note is over one chord: the roles, in the order of THEORY ("What a note is over its chord"), save the blue notes. */
import { nameDegree } from '../theory/figure';
import { chroma } from '../theory/pitch';
import type { Chord, ChordTone, Figure, NoteName, Scale } from '../theory/types';
import { isDominant } from './vocabulary';
import type { Role, TheoryOptions } from './types';

/** A chord as it stands in the phrase. */
export interface ChordInPlace {
  readonly chord: Chord;
  readonly scale: Scale | null;
  /** A dominant that falls (it borrows the tensions of all its forms). */
  readonly falls: boolean;
  /** A plain triad or sixth that moves down a fifth (its b7 makes it a dominant). */
  readonly triadFalls: boolean;
  /** The tonic chord of a minor key. */
  readonly tonicMinor: boolean;
  /** The notes of the key, of which none is outside: over iii and vi in major, where they are dorian before a dominant. Null elsewhere. */
  readonly keyNotes: ReadonlySet<number> | null;
}

export interface RoleOf {
  readonly figure: Figure;
  readonly role: Role;
  readonly borrowed: boolean;
  readonly against: Figure | null;
  /** A note of the key that the chord's scale does not hold: an avoid note in place of an outside one. */
  readonly ofKey: boolean;
}

export function roleOf(note: NoteName, place: ChordInPlace, options: TheoryOptions): RoleOf {
  const found = roleInScale(note, place, options);
  const { figure, role, borrowed, against } = found;
  if (role !== 'outside' || place.keyNotes?.has(chroma(note)) !== true) return { figure, role, borrowed, against, ofKey: false };
  return { ...found, role: 'avoid', against: rubbedBy(place.chord, note)?.figure ?? null, ofKey: true };
}

function rubbedBy(chord: Chord, note: NoteName): ChordTone | undefined {
  const above = (chroma(note) - chroma(chord.root) + 12) % 12;
  return chord.tones.find((tone) => (tone.interval + 1) % 12 === above);
}

function roleInScale(note: NoteName, place: ChordInPlace, options: TheoryOptions): Omit<RoleOf, 'ofKey'> {
  const { chord, scale } = place;
  const above = (chroma(note) - chroma(chord.root) + 12) % 12;
  const figure = nameDegree(chord, scale, note);
  const plain = (role: Role): Omit<RoleOf, 'ofKey'> => ({ figure, role, borrowed: false, against: null });
  if (chord.tones.some((tone) => tone.interval === above)) return plain('chord-tone');
  if (chord.bass !== null && chroma(chord.bass) === chroma(note)) return plain('chord-tone');
  if (contradicts(chord, above)) return plain('outside');
  if (options.profile === 'melodic' && isBorrowed(above, place)) return { ...plain('tension'), borrowed: !inScale(scale, note) };
  if (isAvailable(above, note, place, options)) return plain('tension');
  // Without a scale (a power chord in no key) nothing can be called outside.
  if (scale === null) return plain('tension');
  if (!inScale(scale, note)) return plain('outside');
  const rubbed = rubbedBy(chord, note);
  if (rubbed !== undefined) return { ...plain('avoid'), against: rubbed.figure };
  return avoidedByView(above, place, options) ? plain('avoid') : plain('tension');
}

function inScale(scale: Scale | null, note: NoteName): boolean {
  return scale !== null && scale.sounds.has(chroma(note));
}

function writes(chord: Chord, number: number, alter: number): boolean {
  return chord.tones.some(({ figure }: ChordTone) => figure.number === number && figure.alter === alter);
}

/** Another form of a number that the symbol writes: a 9 over a written b9, the natural 5 where the symbol replaces it … */
function contradicts(chord: Chord, above: number): boolean {
  switch (above) {
    case 2:
      return writes(chord, 9, -1) || writes(chord, 9, 1);
    case 1:
    case 3:
      return writes(chord, 9, 0);
    case 8:
      return writes(chord, 13, 0);
    case 9:
      return writes(chord, 13, -1) || chord.family === 'altered';
    case 7:
      return writes(chord, 5, -1) || writes(chord, 5, 1) || chord.family === 'altered';
    default:
      return false;
  }
}

const DOMINANT_COLOURS = new Set([1, 2, 3, 6, 8, 9]);

function isBorrowed(above: number, place: ChordInPlace): boolean {
  if (place.falls) return DOMINANT_COLOURS.has(above);
  return place.triadFalls && above === 10;
}

/** What is available whatever stands a half step below it. */
function isAvailable(above: number, note: NoteName, place: ChordInPlace, options: TheoryOptions): boolean {
  const { chord, scale } = place;
  const hasMajorThird = chord.tones.some((tone) => tone.interval === 4);
  const hasMinorSeventh = chord.tones.some((tone) => tone.interval === 10);
  if (above === 6 && hasMajorThird && !hasMinorSeventh) return true;
  const inside = inScale(scale, note);
  if (chord.family === 'suspended' && inside) return above !== 4 || options.thirdOfSuspended;
  if (chord.family === 'half-diminished' && above === 2) return options.natural9OfHalfDiminished;
  if (isDominant(chord) && inside && [1, 3, 6, 8].includes(above)) return true;
  if (place.tonicMinor && above === 8 && inside) return options.flat6OfTonicMinor;
  return scale?.name === 'lydian augmented' && above === 9 && options.thirteenthOfLydianAugmented;
}

/** What only some teachers avoid: the 13 of a dorian minor seventh (it sounds the dominant early), the 3 over a sus chord. */
function avoidedByView(above: number, { chord, scale }: ChordInPlace, options: TheoryOptions): boolean {
  if (chord.family === 'suspended') return above === 4 && !options.thirdOfSuspended;
  return options.profile === 'harmonic' && above === 9 && chord.family === 'minor-seventh' && scale?.name === 'dorian';
}
