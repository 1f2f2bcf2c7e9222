/** The key that a phrase is said to be in. */
import { ofReading } from '../analysis/of-reading';
import { placesOf } from '../analysis/places';
import { progressionsOf } from '../analysis/progressions';
import { ZERO } from '../model/time';
import { chroma, soundClass } from '../theory/pitch';
import type { Chord, Key } from '../theory/types';

/** Half steps above the tonic; minor has its raised sixth and seventh, too. */
const IN_KEY: Readonly<Record<Key['mode'], readonly number[]>> = { major: [0, 2, 4, 5, 7, 9, 11], minor: [0, 2, 3, 5, 7, 8, 9, 10, 11] };

/** Of a phrase that names no key: the one its chords tell; null over a vamp, and where half of its chords or more are foreign to it: such a phrase only comes there. */
export const heardKey = ofReading((reading): Key | null => {
  const { phrase, context } = reading;
  const { tonic } = context;
  if (phrase.key !== null || tonic === null || context.vamp) return null;
  const places = placesOf(phrase, context);
  const atHome = progressionsOf(reading).filter(({ key }) => chroma(key.tonic) === chroma(tonic.tonic));
  let [own, foreign] = [ZERO, ZERO];
  for (const { chord, onset, end } of context.harmonies) {
    if (chord === null) continue;
    const bar = places.barAt(onset).number;
    const isOwn = isInKey(chord, tonic) || atHome.some(({ from, to }) => from <= bar && bar <= to);
    if (isOwn) own = own.add(end.sub(onset));
    else foreign = foreign.add(end.sub(onset));
  }
  return own.compare(foreign) > 0 ? tonic : null;
});

function isInKey(chord: Chord, { tonic, mode }: Key): boolean {
  return chord.tones.every(({ name, basic }) => !basic || IN_KEY[mode].includes(soundClass(chroma(name) - chroma(tonic))));
}
