import { chroma, soundClass } from '../../theory/pitch';
import { formatScale, scale } from '../../theory/scale';
import type { Chord, NoteName, Scale } from '../../theory/types';
import type { Reading } from '../types';
import { isDominant, isMinor } from '../vocabulary';
import type { Find, Found } from './device';
import { inScale, runs, type Event, type Study } from './study';

const LEAST = 5;

/** Five notes or more wholly in the tonic's blues scale, with its b5, or its b3 over a chord with a major third; on through changes of chord (OMT). */
export const bluesLine: Find = (study) => {
  const told: Found[] = [];
  for (const one of ['minor blues', 'major blues'] as const) {
    const found = runs(study, LEAST, (from, to) => isIn(study, from, one) && isIn(study, to, one) && sameName(homeOf(study, from), homeOf(study, to)));
    for (const run of found) {
      const home = homeOf(study, run[0]!)!;
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

function isIn(study: Study, event: Event, name: Scale['name']): boolean {
  const home = homeOf(study, event);
  return home !== null && takesBlues(event.chord!) && inScale(scale(home, name), event);
}

function takesBlues(chord: Chord): boolean {
  return isDominant(chord) || isMinor(chord) || chord.family.startsWith('major');
}

/** The tonic, or the root of the chord where nothing tells one; null over no chord. */
function homeOf({ reading }: Study, { chord }: Event): NoteName | null {
  return chord === null ? null : (reading.context.tonic?.tonic ?? bluesTonic(reading) ?? chord.root);
}

function bluesTonic({ context }: Reading): NoteName | null {
  return context.harmonies.find(({ chord }) => chord !== null && chroma(chord.root) === context.blues)?.chord?.root ?? null;
}

/** At least four pitches of the scale, five of the major blues, and both its thirds. The b3 of a minor key is no blue note. */
function isBlue({ reading }: Study, run: readonly Event[], home: NoteName, name: Scale['name']): boolean {
  const above = run.map((event) => soundClass(chroma(event.note.pitch) - chroma(home)));
  const isMinorKey = reading.context.tonic?.mode === 'minor';
  // A chord's own tone is not blue over it.
  const isForeign = (event: Event): boolean => !event.chord!.tones.some(({ name: tone }) => chroma(tone) === chroma(event.note.pitch));
  const hasBlueFifth = run.some((event, i) => above[i] === 6 && isForeign(event));
  const thirdOverMajor = !isMinorKey && run.some((event, i) => above[i] === 3 && isForeign(event) && event.chord!.tones.some(({ interval }) => interval === 4));
  if (new Set(above).size < (name === 'major blues' ? 5 : 4)) return false;
  return name === 'minor blues' ? hasBlueFifth || thirdOverMajor : thirdOverMajor && above.includes(4);
}
