/** The line under a phrase's name: key, meter, tempo, part, level. */
import type { Reading } from '../analysis/types';
import { keyAsWritten, type MusicXmlOptions } from '../exports/musicxml';
import { meterText } from '../model/time';
import { formatKey } from '../theory/key';
import type { Key } from '../theory/types';

/** `F major, 4/4, 144 swing, alto saxophone`. */
export function phraseHeading(reading: Reading, pitch: MusicXmlOptions['pitch']): string {
  const { phrase } = reading;
  const { key, tempo, part, level } = phrase;
  const meter = phrase.bars[0]?.meter;
  const feel = tempo.feel === 'swing' && tempo.ratio !== null ? `swing ${tempo.ratio.join(':')}` : tempo.feel;
  return [
    key === null ? null : keyWords(key, keyAsWritten(reading, { pitch, degrees: false, words: 'notes' })!),
    meter === undefined ? null : meterText(meter),
    // In compound meters nothing swings.
    meter?.compound === true ? `${tempo.bpm} beats a minute` : `${tempo.bpm} ${feel}`,
    part.name === 'concert' ? null : part.label,
    level === null ? null : `level ${level}`,
  ]
    .filter((part) => part !== null)
    .join(', ');
}

/** The key as it sounds, and the one in which a part reads it, where that is another. */
function keyWords(sounding: Key, written: Key): string {
  const [sounds, reads] = [formatKey(sounding), formatKey(written)];
  return sounds === reads ? sounds : `${sounds} (written in ${reads})`;
}
