/** The harmonic setting of a phrase: what kind of progression its chords are (THEORY, section 7). */
import { chroma } from '../theory/pitch';
import type { Chord } from '../theory/types';
import { distanceUp, fallsFifth, type HarmonicContext } from './harmonies';
import { isDominant, isMinor } from './vocabulary';
import { barsByNumber } from './places';
import type { Reading } from './types';

export type Setting =
  | 'short-ii-v-i-major' | 'short-ii-v-i-minor' | 'long-ii-v-i-major' | 'long-ii-v-i-minor' | 'turnaround' | 'blues'
  | 'major-vamp' | 'minor-vamp' | 'dominant-vamp' | 'cycle' | 'free';

/** How people write each setting. */
export const SETTING_WORDS: Readonly<Record<Setting, string>> = {
  'short-ii-v-i-major': 'short ii–V–I in major',
  'short-ii-v-i-minor': 'short ii–V–i in minor',
  'long-ii-v-i-major': 'long ii–V–I in major',
  'long-ii-v-i-minor': 'long ii–V–i in minor',
  turnaround: 'turnaround',
  blues: 'blues',
  'major-vamp': 'major vamp',
  'minor-vamp': 'minor vamp',
  'dominant-vamp': 'dominant vamp',
  cycle: 'cycle of dominants',
  free: 'free changes',
};

/** Null where no chord is written. */
export function settingOf(reading: Reading): Setting | null {
  const { context } = reading;
  const chords = context.harmonies.flatMap(({ chord }) => (chord === null ? [] : [chord]));
  const [first] = chords;
  if (first === undefined) return null;
  if (context.vamp) return isDominant(first) && context.blues === null ? 'dominant-vamp' : vampOrBlues(first, context);
  if (context.blues !== null) return 'blues';
  if (isTurnaround(chords)) return 'turnaround';
  return twoFiveOne(reading) ?? (isCycle(chords) ? 'cycle' : 'free');
}

function vampOrBlues(chord: Chord, context: HarmonicContext): Setting {
  if (isDominant(chord)) return context.blues === null ? 'dominant-vamp' : 'blues';
  return isMinor(chord) || chord.family === 'half-diminished' ? 'minor-vamp' : 'major-vamp';
}

/** I VI ii V or iii VI ii V, any of its dominants at the tritone instead, counted from the tonic that the V would fall to. */
function isTurnaround(chords: readonly Chord[]): boolean {
  return chords.some((_, i) => {
    const four = chords.slice(i, i + 4);
    const last = four[3];
    // Nothing but dominants is a cycle.
    if (last === undefined || !isDominant(last) || four.every(isDominant)) return false;
    return [7, 1].some((above) => {
      const tonic = (chroma(last.root) - above + 12) % 12;
      const [one, six, two] = four.map((chord) => (chroma(chord.root) - tonic + 12) % 12) as [number, number, number];
      return [0, 4].includes(one) && [9, 3].includes(six) && [2, 8].includes(two);
    });
  });
}

function isCycle(chords: readonly Chord[]): boolean {
  let run = 0;
  for (const [i, chord] of chords.entries()) {
    const next = chords[i + 1];
    run = isDominant(chord) ? run + 1 : 0;
    if (run >= 3) return true;
    if (next === undefined || !(fallsFifth(chord, next) || distanceUp(chord, next) === 11)) run = 0;
  }
  return false;
}

function twoFiveOne({ context, phrase }: Reading): Setting | null {
  const { harmonies } = context;
  const bars = barsByNumber(phrase);
  for (const [i, two] of harmonies.entries()) {
    const five = harmonies[i + 1];
    const one = harmonies[i + 2];
    if (two.chord === null || five?.chord == null || one?.chord == null) continue;
    const isTwo = isMinor(two.chord) || two.chord.family === 'half-diminished' || two.chord.family === 'suspended';
    const isFive = isDominant(five.chord) || five.chord.family === 'suspended';
    const falls = fallsFifth(two.chord, five.chord) && fallsFifth(five.chord, one.chord);
    const substitute = distanceUp(two.chord, five.chord) === 11 && distanceUp(five.chord, one.chord) === 11;
    if (!isTwo || !isFive || !(falls || substitute)) continue;
    const barOf = (time: typeof two.onset): number | undefined => [...bars.values()].find((bar) => bar.onset.compare(time) <= 0 && bar.onset.add(bar.length).compare(time) > 0)?.number;
    const length = barOf(two.onset) === barOf(five.onset) ? 'short' : 'long';
    return `${length}-ii-v-i-${isMinor(one.chord) ? 'minor' : 'major'}`;
  }
  return null;
}
