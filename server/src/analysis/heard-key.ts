/** The key that a phrase is said to be in. */
import { ZERO } from '../model/time';
import { chroma } from '../theory/pitch';
import type { Chord, Key } from '../theory/types';
import { keySounds } from './keys';
import { ofReading } from './of-reading';
import { placesOf } from './places';
import { progressionsOf } from './progressions';

/** Of a phrase that names no key: the one its chords tell; null over a vamp, and where half of its chords or more are foreign to it: such a phrase only comes there. */
export const heardKey = ofReading((reading): Key | null => {
  const { phrase, context } = reading;
  const { tonic } = context;
  if (phrase.key !== null || tonic === null || context.vamp) return null;
  const sounds = keySounds(tonic);
  const places = placesOf(phrase, context);
  const atHome = progressionsOf(reading).filter(({ key }) => chroma(key.tonic) === chroma(tonic.tonic));
  let [own, foreign] = [ZERO, ZERO];
  for (const { chord, onset, end } of context.harmonies) {
    if (chord === null) continue;
    const bar = places.barAt(onset).number;
    const isOwn = isInKey(chord, sounds) || atHome.some(({ from, to }) => from <= bar && bar <= to);
    if (isOwn) own = own.add(end.sub(onset));
    else foreign = foreign.add(end.sub(onset));
  }
  return own.compare(foreign) > 0 ? tonic : null;
});

function isInKey({ tones }: Chord, sounds: ReadonlySet<number>): boolean {
  return tones.every(({ name, basic }) => !basic || sounds.has(chroma(name)));
}
