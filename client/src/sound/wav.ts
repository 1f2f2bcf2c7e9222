/** Sound files: WAVE with one channel of linear PCM, 16 bits a sample (the layout is that of Microsoft's and IBM's RIFF specification of 1991, from memory). */

const HEADER = 44;
const BYTES = 2;

/** Bytes that the file's own count of its length can tell. */
const MOST = 2 ** 32 - 1 - HEADER;

/**
 * Puts stretches of samples (-32768 to 32767) one after another into one file. `rate` is samples a second. Throws a RangeError where the
 * sound is too long for a file of this kind, which is at 13 hours.
 */
export function wavOf(stretches: readonly Int16Array[], rate: number): Uint8Array {
  const size = BYTES * stretches.reduce((count, { length }) => count + length, 0);
  if (size > MOST) throw new RangeError('The sound is too long for one WAV file.');
  const bytes = new Uint8Array(HEADER + size);
  const view = new DataView(bytes.buffer);
  const name = (at: number, letters: string): void => [...letters].forEach((letter, i) => view.setUint8(at + i, letter.charCodeAt(0)));
  name(0, 'RIFF');
  view.setUint32(4, HEADER - 8 + size, true);
  name(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  // Linear PCM, one channel.
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * BYTES, true);
  view.setUint16(32, BYTES, true);
  view.setUint16(34, 8 * BYTES, true);
  name(36, 'data');
  view.setUint32(40, size, true);
  let at = HEADER;
  for (const stretch of stretches)
    for (const sample of stretch) {
      view.setInt16(at, sample, true);
      at += BYTES;
    }
  return bytes;
}
