/** The pictures of a phrase that is practised through the keys: one for each pass, so that what is heard can be read. */
import { homeKey } from '../../analysis/keys';
import type { Reading } from '../../analysis/types';
import { writeMusicXml } from '../../exports/musicxml';
import type { Take } from '../../performance/types';
import { shiftBetween, type Shift } from '../../theory/interval';
import { parseNoteName } from '../../theory/pitch';
import type { ScoreOptions } from './types';

/** MusicXML 4.0, one a pass; none where all passes are in the key as written. */
export function picturesInKeys(reading: Reading, { passes }: Take, pitch: ScoreOptions['pitch']): readonly string[] {
  if (passes.every(({ shift }) => shift === 0)) return [];
  return passes.map(({ shift, tonic }) => writeMusicXml([reading], reading.phrase.name, { pitch, degrees: false, words: 'notes', moved: spelledShift(reading, shift, tonic) }));
}

/** Letters for a shift in half steps where no key says them: as few accidentals as may be, from C. */
const LETTERS = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;

/** A shift in half steps with its letters: those that take the home key's tonic to the other. */
function spelledShift(reading: Reading, halfSteps: number, tonic: string | null): Shift {
  const home = homeKey(reading);
  const up = ((halfSteps % 12) + 12) % 12;
  const octaves = (halfSteps - up) / 12;
  const target = tonic === null ? null : parseNoteName(tonic);
  const diatonic = home === null || target === null ? LETTERS[up]! : shiftBetween(home.tonic, target).diatonic;
  // Between enharmonic tonics the letters go up by a step and the sound does not: B to Cb.
  const inOctave = home !== null && target !== null ? shiftBetween(home.tonic, target).chromatic - up : 0;
  return { diatonic: diatonic + 7 * (octaves - inOctave / 12), chromatic: halfSteps };
}
