import { chroma, soundClass } from '../../theory/pitch';
import { formatScale, scale } from '../../theory/scale';
import type { Chord, NoteName, Scale } from '../../theory/types';
import type { Reading } from '../types';
import { isDominant, isMinor } from '../vocabulary';
import type { Find, Found } from './device';
import { inScale, runs, type Event, type Study } from './study';

const LEAST = 5;
/** Half steps from the tonic to the roots of a blues: over bVII7, say, the b3 is no blue third. */
const CHORDS_OF_BLUES = [0, 5, 7];

/** Five notes or more wholly in the tonic's blues scale, with its b5, or its b3 over a I, IV or V with a major third; on through changes of chord (OMT). */
export const bluesLine: Find = (study) => {
  const told: Found[] = [];
  const tonic = study.reading.context.tonic?.tonic ?? bluesTonic(study.reading);
  /** The tonic, or the root of the chord where nothing tells one; null over no chord. */
  const homeOf = ({ chord }: Event): NoteName | null => (chord === null ? null : (tonic ?? chord.root));
  for (const one of ['minor blues', 'major blues'] as const) {
    const isIn = study.events.map((event) => staysIn(homeOf(event), event, one));
    const found = runs(study.events, LEAST, (from, to) => isIn[from.index]! && isIn[to.index]! && sameName(homeOf(from), homeOf(to)));
    for (const run of found) {
      const home = homeOf(run[0]!)!;
      const notes = run.flatMap((event) => event.notes);
      if (isBlue(study, run, home, one) && !told.some((other) => other.notes.some((note) => notes.includes(note)))) {
        const own = scale(home, one);
        told.push({ notes, target: null, detail: formatScale(own), scale: own });
      }
    }
  }
  return told;
};

function sameName(a: NoteName | null, b: NoteName | null): boolean {
  return a !== null && b !== null && chroma(a) === chroma(b);
}

function staysIn(home: NoteName | null, event: Event, name: Scale['name']): boolean {
  return home !== null && takesBlues(event.chord!) && inScale(scale(home, name), event);
}

function takesBlues(chord: Chord): boolean {
  return isDominant(chord) || isMinor(chord) || chord.family.startsWith('major');
}

function bluesTonic({ context }: Reading): NoteName | null {
  return context.harmonies.find(({ chord }) => chord !== null && chroma(chord.root) === context.blues)?.chord?.root ?? null;
}

/** At least four pitches of the scale, five of the major blues, and both its thirds. The b3 of a minor key is no blue note. */
function isBlue({ reading }: Study, run: readonly Event[], home: NoteName, name: Scale['name']): boolean {
  const above = run.map((event) => soundClass(event.sound - chroma(home)));
  const isMinorKey = reading.context.tonic?.mode === 'minor';
  // A chord's own tone is not blue over it.
  const isForeign = (event: Event): boolean => !event.chord!.tones.some(({ name: tone }) => chroma(tone) === event.sound);
  const hasBlueFifth = run.some((event, i) => above[i] === 6 && isForeign(event));
  const thirdOverMajor =
    !isMinorKey &&
    run.some(
      (event, i) =>
        above[i] === 3 &&
        isForeign(event) &&
        CHORDS_OF_BLUES.includes(soundClass(chroma(event.chord!.root) - chroma(home))) &&
        event.chord!.tones.some(({ interval }) => interval === 4),
    );
  if (new Set(above).size < (name === 'major blues' ? 5 : 4)) return false;
  return name === 'minor blues' ? hasBlueFifth || thirdOverMajor : thirdOverMajor && above.includes(4);
}
