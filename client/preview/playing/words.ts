/** What is said of a pass while it sounds. */
import type { Pass, PlayedTake } from '../../src/score/messages';

/** `96 beats a minute`; of several passes also which one it is, by its key where these change. */
export function passWords({ passes }: Pick<PlayedTake, 'passes'>, pass: Pass, index: number): string {
  const tempo = `${Math.round(pass.tempo)} beats a minute`;
  if (passes.length === 1) return tempo;
  return `${index + 1} of ${passes.length}: ${passes.some(({ shift }) => shift !== 0) ? keyWords(pass) : tempo}`;
}

/** On a picture in the key that sounds; nothing where that is the written one. */
export function pictureWords(pass: Pick<Pass, 'tonic' | 'shift'>): string {
  return pass.shift === 0 ? '' : `Shown ${keyWords(pass)}, as it sounds; the text stays as it is.`;
}

function keyWords({ tonic, shift }: Pick<Pass, 'tonic' | 'shift'>): string {
  return tonic === null ? `${Math.abs(shift)} half steps ${shift < 0 ? 'down' : 'up'}` : `in ${tonic}`;
}
