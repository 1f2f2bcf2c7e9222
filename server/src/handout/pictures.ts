/** The systems of a phrase, engraved and drawn for a sheet. */
import type { Reading } from '../analysis/types';
import { writeMusicXml } from '../exports/musicxml';
import type { Engraver } from '../picture/engraver';
import { drawSystem } from '../picture/system';
import type { PictureData, PictureNote, PictureOptions } from '../picture/types';
import type { Paper } from './paper';
import { pictureData, type NoteFinding } from './picture-data';
import { shows, type DrawnSystem, type HandoutOptions } from './types';

/** Draws a phrase as wide as the text of a page. Throws where it cannot be engraved. */
export function systemsOf(
  reading: Reading,
  findings: readonly NoteFinding[],
  paper: Paper,
  engraver: Engraver,
  options: HandoutOptions,
): DrawnSystem[] {
  const shown = shows(options, 'findings') ? findings : [];
  return drawn({ reading, data: pictureData(reading, shown), options: pictureOptions(options) }, paper, engraver);
}

export interface Drawing {
  readonly reading: Reading;
  readonly data: PictureData;
  readonly options: PictureOptions;
  /** `blank`: the staff with room for the line. */
  readonly line?: 'blank';
}

/** Draws what is known of a phrase, as far as it is to be shown. Throws where it cannot be engraved. */
export function drawn({ reading, data, options, line }: Drawing, { engravedWidth }: Paper, engraver: Engraver): DrawnSystem[] {
  const musicXml = writeMusicXml([reading], reading.phrase.name, {
    pitch: 'written',
    degrees: false,
    words: 'notes',
    ...(line === undefined ? {} : { line }),
  });
  const notes = options.boxes === undefined ? (options.degrees ? data.notes : data.notes.map(bare)) : data.notes.map(boxed);
  return engraver
    .engrave({ musicXml, notes }, engravedWidth)
    .map((engraved) => drawSystem(engraved, data, options))
    .map(({ svg, width, height }) => ({ svg, width, height }));
}

function pictureOptions(options: HandoutOptions): PictureOptions {
  const plain = { degrees: shows(options, 'degrees'), devices: shows(options, 'devices') };
  return options.sheet === 'teacher' ? plain : { ...plain, boxes: options.sheet === 'student' ? 'blank' : 'filled' };
}

type Room = Pick<PictureNote, 'figure' | 'later'>;

/** Nothing under the notes needs room. */
function bare(): Room {
  return { figure: null, later: [] };
}

/** Every box needs the room of a long figure, so that a hand can write in it. */
function boxed({ figure, later }: PictureData['notes'][number]): Room {
  return { figure: figure === null ? null : WIDE, later: later.map((one) => ({ ...one, figure: WIDE })) };
}

const WIDE = 'b13';
