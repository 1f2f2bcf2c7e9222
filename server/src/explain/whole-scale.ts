/** The pentatonic or blues scale that a whole line over a vamp or a blues stays in: what a teacher says of it first. */
import { devicesOf } from '../analysis/devices/read';
import { progressionsOf } from '../analysis/progressions';
import { isDominant, isMinor } from '../analysis/vocabulary';
import type { Reading } from '../analysis/types';
import { chroma, formatNoteName } from '../theory/pitch';
import { scale } from '../theory/scale';
import type { Scale, ScaleName } from '../theory/types';
import { breathAfter } from './telling/breath';

/** Fewer notes stay in a scale by chance. */
const FEWEST = 7;

const found = new WeakMap<Reading, Scale | null>();

/** Null where there is none, and where one device tells the whole line. */
export function wholeScale(reading: Reading): Scale | null {
  const known = found.get(reading);
  if (known !== undefined) return known;
  const { notes } = reading.phrase;
  const isOneBreath = notes.slice(0, -1).every(({ index }) => !breathAfter(reading, index));
  const isTold = isOneBreath && devicesOf(reading).some(({ kind, from, to }) => (kind === 'pentatonic-line' || kind === 'blues-line') && from === 0 && to === notes.length - 1);
  const own = isTold || notes.length < FEWEST ? null : scaleOf(reading);
  found.set(reading, own);
  return own;
}

/** `D minor pentatonic`, as devices name it. */
export function scaleWords({ root, name }: Scale): string {
  return `${formatNoteName(root)} ${name}`;
}

const OVER_DOMINANT: readonly ScaleName[] = ['minor pentatonic', 'major pentatonic', 'minor blues', 'major blues'];
const OVER_MINOR: readonly ScaleName[] = ['minor pentatonic', 'minor blues'];
const OVER_MAJOR: readonly ScaleName[] = ['major pentatonic', 'major blues'];

/** The smallest scale on the home that all notes stand in; each of its tones is heard, or a blues scale would be named for a pentatonic line. */
function scaleOf({ phrase, context, ...rest }: Reading): Scale | null {
  const home = homeOf({ phrase, context, ...rest });
  if (home === null) return null;
  const sounds = new Set(phrase.notes.map(({ pitch }) => chroma(pitch)));
  const names = isDominant(home) ? OVER_DOMINANT : isMinor(home) ? OVER_MINOR : OVER_MAJOR;
  const scales = names.map((name) => scale(home.root, name));
  return scales.find(({ tones }) => tones.length === sounds.size && tones.every(({ name }) => sounds.has(chroma(name)))) ?? null;
}

/** The chord of a vamp, or the first chord on the tonic of a blues. */
function homeOf(reading: Reading) {
  const { phrase, context } = reading;
  const chords = phrase.spans.flatMap(({ chord }) => chord ?? []);
  const isBlues = progressionsOf(reading).some(({ id }) => id === 'blues' || id === 'minor-blues');
  if (context.vamp && new Set(chords.map(({ root }) => chroma(root))).size === 1) return chords[0]!;
  return isBlues ? (chords.find(({ root }) => context.tonic !== null && chroma(root) === chroma(context.tonic.tonic)) ?? null) : null;
}
