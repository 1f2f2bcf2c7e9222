/** The picture of one phrase on the page: its systems, engraved for the room that there is. */
import type { Engraver } from '../../../server/src/picture/engraver';
import { LANE } from '../../../server/src/picture/system';
import type { ScorePhrase } from '../../src/score/messages';
import { timesLegible } from '../sight';
import { showSystem, type ShownSystem } from '../system';
import { engravedWidth, stampOf, type Room } from './room';
import { phraseAt, type Reads } from './shown';

/** A phrase that cannot be drawn says so, keeps its picture as one that is out of date, and takes no other with it. */
export function drawPicture(engraver: Engraver, page: Reads<'shown' | 'played' | 'width' | 'options'>, index: number): void {
  const one = page.shown[index]!;
  const { section } = one;
  one.isWaiting = false;
  one.drawnFor = stampOf(one.phrase, page);
  try {
    section.showSystems(systemsOf(engraver, phraseAt(page, index)!, page, section.drawn()));
    if (page.played?.phrase === index) section.showState(page.played.words, 'played');
  } catch (error) {
    section.setState('stale');
    section.showState(`This phrase could not be drawn: ${error instanceof Error ? error.message : String(error)}`, 'error');
  }
}

/** The systems of a phrase, by all that they show: those that are there already are taken as they are. */
function systemsOf(
  engraver: Engraver,
  phrase: ScorePhrase,
  room: Readonly<Room>,
  before: ReadonlyMap<string, ShownSystem>,
): Map<string, ShownSystem> {
  const { width, options } = room;
  const pictures = engraver.engrave(phrase, engravedWidth(room));
  return new Map(
    pictures.map((picture, i) => {
      const names = options.devices ? timesLegible(LANE.size, unitsOf(picture), width) : 1;
      const id = `${i + 1} of ${pictures.length} ${JSON.stringify([options.degrees, options.devices, names, dataIn(picture, phrase), options.devices ? phrase.devices : []])} ${picture}`;
      const place = pictures.length === 1 ? '' : `system ${i + 1} of ${pictures.length}`;
      return [id, before.get(id) ?? showSystem(picture, phrase, { ...options, names, place })];
    }),
  );
}

/** How wide an engraved picture is, in its own units. */
function unitsOf(picture: string): number {
  return Number(/class="definition-scale"[^>]* viewBox="0 0 ([\d.]+)/.exec(picture)?.[1] ?? 0);
}

/** What the picture of a system shows of its notes. */
function dataIn(picture: string, { notes }: ScorePhrase): unknown {
  return [...picture.matchAll(/id="n-0-(\d+)(?:-\d+)?"/g)].map(([, index]) => {
    const note = notes[Number(index)];
    return note === undefined ? null : [note.figure, note.role, note.later, note.finding, note.label];
  });
}
