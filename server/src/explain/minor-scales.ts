/** Harmonic and melodic minor: the scale of a whole line over a minor progression, and the bars over the tonic that have one form of its sixth and seventh. */
import { homeKey } from '../analysis/keys';
import { ofReading } from '../analysis/of-reading';
import { progressionsOf } from '../analysis/progressions';
import { chordOfPlacement, isMinor } from '../analysis/vocabulary';
import type { Reading } from '../analysis/types';
import { groupedBy } from '../model/grouped';
import type { Note } from '../model/types';
import { chroma, soundClass } from '../theory/pitch';
import { formatScale, scale } from '../theory/scale';
import type { Chord, NoteName, Scale, ScaleName } from '../theory/types';
import { FEWEST_IN_SCALE } from './whole-scale';

/** Half steps above the tonic: the sixth and the seventh, which tell each from the other minor scales. */
const SIXTH_AND_SEVENTH = { 'harmonic minor': [8, 11], 'melodic minor': [9, 11], aeolian: [8, 10] } as const;
/** Fewer of its seven notes are an arpeggio or two; within a bar, fewer of them. */
const FEWEST_SOUNDS = 6;
const FEWEST_OF_BAR = 5;
const FLAT_THIRD = 3;

/** Null where a note lies outside both, where the sixth or seventh is not heard, within one bar, and over progressions that do not come home to the tonic. */
export const wholeMinor = ofReading((reading): Scale | null => {
  const { notes } = reading.phrase;
  const tonic = minorTonic(reading);
  if (tonic === null || notes.length < FEWEST_IN_SCALE || notes[0]!.bar === notes[notes.length - 1]!.bar) return null;
  const comesHome = progressionsOf(reading).every((one) => one.comesHome && chroma(one.key.tonic) === chroma(tonic));
  const sounds = soundsAbove(notes, tonic);
  const name = (['harmonic minor', 'melodic minor'] as const).find((one) => sounds.size >= FEWEST_SOUNDS && isIn(sounds, tonic, one));
  // A minor seventh on the tonic has another seventh than the line.
  const contradicts =
    name === 'melodic minor' &&
    reading.context.harmonies.some(
      ({ chord }) => chord !== null && chroma(chord.root) === chroma(tonic) && !TAKES_MELODIC.has(chord.family) && isMinor(chord),
    );
  return name === undefined || !comesHome || contradicts ? null : scale(tonic, name);
});

/** Whether the whole line is told to be in harmonic minor. */
export function isAllHarmonicMinor(reading: Reading): boolean {
  return wholeMinor(reading)?.name === 'harmonic minor';
}

/** A bar over a minor tonic that has the sixth and the seventh of one of its scales. */
export interface MinorForm {
  /** `C melodic minor`. */
  readonly title: string;
  /** The first notes that are the sixth and the seventh, by index. */
  readonly sixth: number;
  readonly seventh: number;
}

const TAKES_MELODIC: ReadonlySet<Chord['family']> = new Set(['minor', 'minor-sixth', 'minor-major-seventh']);

/** The first bar in melodic minor, and with it the first in natural minor, where there is one; none where all of the line is told to be in a scale. */
export const minorForms = ofReading((reading): readonly MinorForm[] => {
  if (wholeMinor(reading) !== null) return [];
  const melodic = formsOf(reading, 'melodic minor');
  return melodic === null ? [] : [melodic, formsOf(reading, 'aeolian')].filter((form) => form !== null);
});

function formsOf(reading: Reading, name: 'melodic minor' | 'aeolian'): MinorForm | null {
  const { phrase, notes, context } = reading;
  const bars = groupedBy(notes, ({ note, placement }) =>
    placement === null ? [] : [`${phrase.notes[note]!.bar} ${context.ofSpan[placement.span]!}`],
  );
  for (const within of bars.values()) {
    const chord = chordOfPlacement(reading, within[0]!.placement);
    if (chord === null || !isTonicMinor(reading, chord) || (name === 'melodic minor' && !TAKES_MELODIC.has(chord.family))) continue;
    const own = within.map(({ note }) => phrase.notes[note]!);
    const sounds = soundsAbove(own, chord.root);
    if (sounds.size < FEWEST_OF_BAR || !sounds.has(FLAT_THIRD) || !isIn(sounds, chord.root, name)) continue;
    const [sixth, seventh] = SIXTH_AND_SEVENTH[name].map(
      (above) => own.find(({ pitch }) => soundClass(chroma(pitch) - chroma(chord.root)) === above)!.index,
    );
    const title = formatScale(scale(chord.root, name)).replace('aeolian', 'natural minor');
    return { title, sixth: sixth!, seventh: seventh! };
  }
  return null;
}

/** On the tonic of a minor key, or the chord of a vamp; one with a major seventh is a tonic wherever it stands. */
function isTonicMinor(reading: Reading, chord: Chord): boolean {
  const tonic = minorTonic(reading);
  return isMinor(chord) && (chord.family === 'minor-major-seventh' || (tonic !== null && chroma(tonic) === chroma(chord.root)));
}

/** The tonic of a minor key, or the root of a minor chord that a phrase stays on; else null. */
function minorTonic(reading: Reading): NoteName | null {
  const { context } = reading;
  const chord = context.vamp ? (context.harmonies.find((one) => one.chord !== null)?.chord ?? null) : null;
  if (chord !== null) return isMinor(chord) ? chord.root : null;
  const key = homeKey(reading);
  return key?.mode === 'minor' ? key.tonic : null;
}

/** Whether all sounds lie in a minor scale, its sixth and seventh among them. */
function isIn(sounds: ReadonlySet<number>, tonic: NoteName, name: keyof typeof SIXTH_AND_SEVENTH & ScaleName): boolean {
  const own = scale(tonic, name).sounds;
  return (
    SIXTH_AND_SEVENTH[name].every((above) => sounds.has(above)) && [...sounds].every((above) => own.has(soundClass(above + chroma(tonic))))
  );
}

/** Half steps above a tonic, each once. */
function soundsAbove(notes: readonly Pick<Note, 'pitch'>[], tonic: NoteName): ReadonlySet<number> {
  return new Set(notes.map(({ pitch }) => soundClass(chroma(pitch) - chroma(tonic))));
}
