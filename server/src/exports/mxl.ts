/** A score in a compressed file (W3C MusicXML 4.0, "Compressed .MXL files"): a zip that names its kind first, uncompressed, then the score. */
import { strToU8, zipSync } from 'fflate';
import { element, writeXml } from './xml';

const SCORE = 'score.musicxml';
/** Fixed, so that the same score gives the same bytes; a zip knows no year before 1980, and local noon is the same day everywhere. */
const TIME = new Date(1980, 0, 1, 12);

export function writeMxl(musicXml: string): Uint8Array {
  const container = writeXml(
    element(
      'container',
      {},
      element('rootfiles', {}, element('rootfile', { 'full-path': SCORE, 'media-type': 'application/vnd.recordare.musicxml+xml' })),
    ),
  );
  return zipSync(
    {
      mimetype: [strToU8('application/vnd.recordare.musicxml'), { level: 0 }],
      'META-INF/container.xml': strToU8(container),
      [SCORE]: strToU8(musicXml),
    },
    { mtime: TIME },
  );
}
