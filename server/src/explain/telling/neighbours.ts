/** A note that goes to its neighbour and back, and thirds that go by step: figures that are told by what they are, and not by their degrees. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt } from '../../analysis/devices/read';
import { homeKey } from '../../analysis/keys';
import type { Reading } from '../../analysis/types';
import { isJoined, isStep } from '../../analysis/vocabulary';
import { staffPlace } from '../../theory/pitch';
import { talkOf } from '../device-words';
import { foreignNotes, inRole, listed, noteName, noteNames, theChord } from '../note-words';
import { say, type Words } from '../say';
import type { PlainTold } from './clause';
import { figures } from './counted';
import { isLanding, isUpbeat } from './landings';
import { notesIn, type Stretch } from './stretch';

/** Notes after a neighbour that can be told with it. */
const FEW_AFTER = 2;

type Told = Pick<Stretch, 'from' | 'to' | 'as'>;

/** Whether a device is no more than the neighbour that the words of a stretch tell: a note, its neighbour and the note again, and a note or two more at most. */
export function isToldNeighbour(reading: Reading, { from, target }: Device, stretch: Told): boolean {
  const neighbour = neighbourIn(reading, stretch);
  return neighbour !== null && neighbour.note === from && (target === null || target <= stretch.to);
}

/** Whether a stretch is such a figure with a neighbour outside its scale, which is worth a word by itself. */
export function isChromaticNeighbour(reading: Reading, stretch: Told): boolean {
  return neighbourIn(reading, stretch)?.name.startsWith('chromatic') === true;
}

/** The neighbour of such a figure, and what it is: `lower`, `chromatic upper`; null where there is none. */
function neighbourIn(reading: Reading, { from, to, as }: Told): { readonly note: number; readonly name: string } | null {
  const [first, second, third, ...more] = talkOf({ notes: notesIn({ from, to }), target: null, detail: '' }, reading).notes;
  if (as !== 'plain' || third === undefined || more.length > FEW_AFTER || reading.notes[first!]!.placement === null) return null;
  const found = devicesAt(reading, second!).find(({ kind, target }) => kind === 'neighbour-tone' && target === third);
  // A flat tension that falls is told as that.
  if (
    devicesAt(reading, second!).some(
      (one) => one.kind === 'tension-resolution' && one.target === third && found?.detail.startsWith('upper'),
    )
  )
    return null;
  const [side, colour] = found?.detail.split(', ') ?? [];
  if (side === undefined) return null;
  if (colour === 'chromatic' && (homeKey(reading) === null || foreignNotes(reading, [second!]).length > 0))
    return { note: second!, name: `chromatic ${side}` };
  // A diatonic one is heard as the way to where the line comes to rest.
  return isUpbeat(reading, { from, to, as }) ? null : { note: second!, name: side };
}

/** `Gb, the third of Ebm7, goes to its lower neighbour F and back, and on to Bb, the fifth`; null of any other stretch. */
export function withNeighbour(reading: Reading, stretch: Stretch): PlainTold | null {
  const neighbour = neighbourIn(reading, stretch);
  if (neighbour === null) return null;
  const [first, second, , ...more] = talkOf({ notes: notesIn(stretch), target: null, detail: '' }, reading).notes as [
    number,
    number,
    number,
  ];
  const back = say`${inRole(reading, first)}, goes to its ${neighbour.name} neighbour ${noteName(reading, second)} and back`;
  const [next] = more as number[];
  if (next === undefined) return { words: back, tellsEnd: true };
  if (more.length > 1)
    return {
      words: say`${back}, and on to ${listed(more.map((note) => noteName(reading, note)))} (${figures(reading, more)})`,
      tellsEnd: false,
    };
  const goes = next === reading.phrase.notes.length - 1 && isLanding(reading, next) ? 'comes to rest on' : 'on to';
  return { words: say`${back}, and ${goes} ${inRole(reading, next)}`, tellsEnd: true };
}

const FEWEST_IN_THIRDS = 4;

/** `C-A-B-G-A goes in thirds over Dm7, falling by step (b7-5-6-4-5)`: every second note a third from the one before it, all one way, the others by step; null of other notes. */
export function inThirds(reading: Reading, notes: readonly number[]): Words | null {
  const { phrase } = reading;
  const written = notes.map((note) => phrase.notes[note]!);
  const places = written.map(({ pitch }) => staffPlace(pitch));
  const starts = notes.flatMap((_, i) => (i % 2 === 0 ? [i] : []));
  const ways = new Set(starts.slice(1).map((i) => places[i]! - places[i - 2]!));
  const thirds = new Set(starts.filter((i) => i + 1 < notes.length).map((i) => places[i + 1]! - places[i]!));
  const [way] = ways;
  const isThatOnly =
    notes.length >= FEWEST_IN_THIRDS &&
    ways.size === 1 &&
    Math.abs(way!) === 1 &&
    thirds.size === 1 &&
    [...thirds].every((third) => Math.abs(third) === 2) &&
    starts.slice(1).every((i) => isStep(written[i - 2]!, written[i]!)) &&
    written.slice(1).every((note, i) => isJoined(written[i]!, note));
  if (!isThatOnly) return null;
  return say`${noteNames(reading, notes)} goes in thirds over ${theChord(reading, reading.notes[notes[0]!]!.placement!)}, ${way! > 0 ? 'rising' : 'falling'} by step (${figures(reading, notes)})`;
}
