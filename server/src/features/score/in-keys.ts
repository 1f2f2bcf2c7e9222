/** The pictures of a phrase that is practised through the keys: one for each pass, so that what is heard can be read. */
import { homeKey } from '../../analysis/keys';
import type { Reading } from '../../analysis/types';
import { pageShift, writeMusicXml, type MusicXmlOptions } from '../../exports/musicxml';
import type { Take } from '../../performance/types';
import { shiftBetween, type Shift } from '../../theory/interval';
import { parseNoteName, soundClass } from '../../theory/pitch';
import { labelsIn } from './notes';
import type { KeyPicture, ScoreOptions } from './types';

/** One a pass; none where all passes are in the key as written. */
export function picturesInKeys(reading: Reading, { passes }: Take, pitch: ScoreOptions['pitch']): readonly KeyPicture[] {
  if (passes.every(({ shift }) => shift === 0)) return [];
  return passes.map(({ shift, tonic }) => {
    const options: MusicXmlOptions = { pitch, degrees: false, words: 'notes', moved: spelledShift(reading, shift, tonic) };
    return { musicXml: writeMusicXml([reading], reading.phrase.name, options), labels: labelsIn(reading, pageShift(reading, options)) };
  });
}

/** Letters for a shift in half steps where no key says them: as few accidentals as may be, from C. */
const LETTERS = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;

/** A shift in half steps with its letters: those that take the home key's tonic to the other, in whatever octave. */
function spelledShift(reading: Reading, halfSteps: number, tonic: string | null): Shift {
  const [home, target, up] = [homeKey(reading), tonic === null ? null : parseNoteName(tonic), soundClass(halfSteps)];
  const { diatonic, chromatic } =
    home === null || target === null ? { diatonic: LETTERS[up]!, chromatic: up } : shiftBetween(home.tonic, target);
  return { diatonic: diatonic + (7 * (halfSteps - chromatic)) / 12, chromatic: halfSteps };
}
