/** The harmonic minor scale of a whole line over a minor progression: its raised seventh beside the flat sixth. */
import { homeKey } from '../analysis/keys';
import { ofReading } from '../analysis/of-reading';
import { progressionsOf } from '../analysis/progressions';
import { chroma, soundClass } from '../theory/pitch';
import { scale } from '../theory/scale';
import type { Scale } from '../theory/types';
import { FEWEST_IN_SCALE } from './whole-scale';

/** Half steps above the tonic: what tells it from the other minor scales. */
const TELLING = [8, 11];
/** Fewer of its seven notes are an arpeggio or two. */
const FEWEST_SOUNDS = 6;

/** Null where a note lies outside it, where its sixth or seventh is not heard, within one bar, and over progressions that do not come home to its tonic. */
export const wholeHarmonicMinor = ofReading((reading): Scale | null => {
  const { notes } = reading.phrase;
  const key = homeKey(reading);
  if (key?.mode !== 'minor' || notes.length < FEWEST_IN_SCALE || notes[0]!.bar === notes[notes.length - 1]!.bar) return null;
  const comesHome = progressionsOf(reading).every((one) => one.comesHome && chroma(one.key.tonic) === chroma(key.tonic));
  const own = scale(key.tonic, 'harmonic minor');
  const sounds = new Set(notes.map(({ pitch }) => chroma(pitch)));
  const tells = TELLING.every((above) => sounds.has(soundClass(chroma(key.tonic) + above)));
  return comesHome && tells && sounds.size >= FEWEST_SOUNDS && [...sounds].every((sound) => own.sounds.has(sound)) ? own : null;
});
