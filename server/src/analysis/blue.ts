/** Blue notes: kept narrow on purpose, since a looser excuse silences true clashes (THEORY: blue). */
import type { Note, Phrase } from '../model/types';
import { chroma, soundClass } from '../theory/pitch';
import type { Chord, NoteName } from '../theory/types';
import type { HarmonicContext } from './harmonies';
import { chordWrittenAt, connected, isDominant, isMinor } from './vocabulary';
import type { Places } from './places';

const MINOR_BLUES = new Set([0, 3, 5, 6, 7, 10]);
const BLUE = new Set([3, 6, 10]);
const SHORTEST_STRETCH = 5;

/** The indexes of notes that count as blue where they would else be avoid notes, outside or borrowed. */
export function blueNotes(phrase: Phrase, context: HarmonicContext, places: Places): ReadonlySet<number> {
  const found = new Set<number>();
  if (context.blues !== null) for (const index of overItsDominants(phrase, context.blues)) found.add(index);
  if (context.tonic !== null) for (const index of inStretches(phrase, context, places, chroma(context.tonic.tonic))) found.add(index);
  return found;
}

/** In a blues, b3 and b5 of the tonic over its dominants (I7, IV7, V7). */
function overItsDominants(phrase: Phrase, tonic: number): number[] {
  return phrase.notes.flatMap((note) => {
    const chord = chordWrittenAt(phrase, note);
    if (chord === null || !isDominant(chord)) return [];
    const degree = (chroma(chord.root) - tonic + 12) % 12;
    const above = (chroma(note.pitch) - tonic + 12) % 12;
    return [0, 5, 7].includes(degree) && (above === 3 || above === 6) ? [note.index] : [];
  });
}

/** The notes of stretches of five or more with two of the tonic's b3, b5, b7. */
function inStretches(phrase: Phrase, context: HarmonicContext, places: Places, tonic: number): number[] {
  return stretchesOf(phrase, context, places, tonic)
    .filter((stretch) => stretch.length >= SHORTEST_STRETCH)
    .filter(
      (stretch) =>
        new Set(stretch.map((i) => soundClass(chroma(phrase.notes[i]!.pitch) - tonic)).filter((above) => BLUE.has(above))).size >= 2,
    )
    .flat();
}

/** Indexes of the notes that end with the one at `last` and are blue as soon as enough of their kind come; empty where that one is of no such stretch. */
export function growingStretch(phrase: Phrase, context: HarmonicContext, places: Places, last: number): readonly number[] {
  if (context.tonic === null) return [];
  const own = stretchesOf(phrase, context, places, chroma(context.tonic.tonic)).find((stretch) => stretch.includes(last));
  return own?.filter((index) => index <= last) ?? [];
}

/** Stretches of any length, without a rest of a beat, in the tonic's minor blues scale, as indexes. */
function stretchesOf({ notes }: Phrase, context: HarmonicContext, places: Places, tonic: number): number[][] {
  const found: number[][] = [];
  notes.forEach((note, i) => {
    if (!isOfBluesLine(note, context, tonic)) return;
    const before = found[found.length - 1];
    if (before?.[before.length - 1] === i - 1 && connected(notes[i - 1]!, note, places)) before.push(i);
    else found.push([i]);
  });
  return found;
}

/** Whether a note may stand in such a stretch: of the minor blues scale of a tonic (a pitch class), over a dominant or a minor chord. */
export function isOfBluesLine(note: Note, { harmonies, ofSpan }: HarmonicContext, tonic: number): boolean {
  const chord = note.span === null ? null : harmonies[ofSpan[note.span]!]!.chord;
  return chord !== null && (isDominant(chord) || isMinor(chord)) && MINOR_BLUES.has((chroma(note.pitch) - tonic + 12) % 12);
}

/** A blue third or fifth, and whose. */
export interface BlueNote {
  readonly number: 3 | 5;
  readonly tonic: NoteName;
  /** Over the tonic's own chord, where it is called by its own figure. */
  readonly atHome: boolean;
}

/** Null for a note that is no third and no fifth of the tonic: it is blue by the line it stands in. */
export function blueNoteOf(note: NoteName, chord: Chord, { tonic: key, blues, harmonies }: HarmonicContext): BlueNote | null {
  const sound = blues ?? (key === null ? null : chroma(key.tonic));
  if (sound === null) return null;
  const above = (chroma(note) - sound + 12) % 12;
  if (above !== 3 && above !== 6) return null;
  const named =
    key !== null && chroma(key.tonic) === sound
      ? key.tonic
      : harmonies.find((harmony) => harmony.chord !== null && chroma(harmony.chord.root) === sound)?.chord?.root;
  return named === undefined ? null : { number: above === 3 ? 3 : 5, tonic: named, atHome: chroma(chord.root) === sound };
}
