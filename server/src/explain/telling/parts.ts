/** What is said of a stretch: its clause, and the points beside it that were not told before. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { deviceWords } from '../device-words';
import { plain, say } from '../say';
import type { Clause } from './clause';
import { clauseOf } from './clauses';
import { landingAtEnd } from './landings';
import { isFromPeak } from './reach';
import { isOneChange } from './repeat-words';
import { guideTonesNow, isFlatTension, newMeaning } from './harmony-points';
import { isLeadTold, remember, type Memory } from './memory';
import { passingChordsIn } from './passing-chords';
import type { Point } from './point';
import { pointsOf } from './points';
import type { Repeat } from './repeats';
import type { Part } from './sentences';
import { isHeard } from './sequences';
import { isToldByFinding, notesIn, type Stretch } from './stretch';
import { isSpelledOut } from './unsaid';

/** What is told, and what is looked up again and again meanwhile. */
export interface Telling {
  readonly reading: Reading;
  /** The devices by their first notes, but those that are told as stretches. */
  readonly beginning: ReadonlyMap<number, readonly Device[]>;
  readonly memory: Memory;
}

/** So many points are told beside a clause. */
const MOST_POINTS = 2;
/** The weight of a landing. */
const LANDING = 6;
/** A point of that weight says enough of a note. */
const TELLING = 3;

/** The parts of a stretch, in order; they are remembered. `index` is its place in the bar, `before` the stretch before in the same bar. */
export function partsOf(telling: Telling, stretch: Stretch, index: number, before: Stretch | null): Part[] {
  const { reading, memory } = telling;
  if (isToldByFinding(reading, stretch)) return [];
  const clause = clauseOf(reading, stretch, before);
  if (stretch.repeat !== null) return repeatParts(telling, stretch, stretch.repeat, clause, index);
  const untold = untoldPoints(telling, stretch);
  const chosen = untold.slice(0, MOST_POINTS).sort((a, b) => a.notes[0]! - b.notes[0]!);
  const own = ownPart(telling, stretch, clause, { untold, chosen }, index);
  for (const point of chosen) remember(memory, point);
  const isBeside = own !== null || isFromPeak(reading, stretch);
  const points = chosen.map((point, i) => pointPart(inItsBar(reading, stretch, point, chosen[i - 1]), index, isBeside || point.states));
  return [...(own === null ? [] : [own]), ...chordParts(reading, stretch, index), ...points];
}

/** `in bar 2, G# and B enclose A#`: of a stretch that goes on for bars, what begins in a later one than what was told before says where; not where its notes were spelled out. */
function inItsBar({ phrase: { notes } }: Reading, stretch: Stretch, point: Point, before: Point | undefined): Point {
  const barOf = (note: number): number => notes[note]!.bar;
  const bar = barOf(point.notes[0]!);
  return bar === barOf(before?.notes[0] ?? stretch.from) || isSpelledOut(stretch)
    ? point
    : { ...point, words: say`in bar ${bar}, ${point.words}` };
}

/** What a repeat is, where it begins, and what its notes mean anew. */
function repeatParts(telling: Telling, stretch: Stretch, repeat: Repeat, { words, verb, weight }: Clause, index: number): Part[] {
  const { reading, memory } = telling;
  const own = words.length === 0 ? [] : [part(stretch, index, { words, verb, weight, target: null })];
  const meanings = newMeaning(reading, stretch).filter(({ notes }) => !isTheChange(reading, repeat, notes));
  const beside = meanings.map((point): Part => {
    return { ...part(stretch, index, { ...point, verb: undefined, target: null }), isPoint: true, states: true };
  });
  const led = own.length === 0 ? [] : guideTonesNow(reading, repeat);
  for (const point of led) remember(memory, point);
  return [...own, ...beside, ...led.map((point) => pointPart(point, index, true)), ...chordParts(reading, stretch, index)];
}

/** What the chords do that pass under the stretch. */
function chordParts(reading: Reading, stretch: Stretch, index: number): Part[] {
  return passingChordsIn(reading, stretch).map(
    ({ note, words }): Part => ({
      words,
      verb: undefined,
      weight: LANDING,
      stretch: index,
      isPoint: true,
      states: true,
      from: note,
      to: note,
      target: null,
    }),
  );
}

/** Whether a note is the one that changes where a riff is struck again: the clause tells what it becomes. */
function isTheChange(reading: Reading, { changed }: Repeat, notes: readonly number[]): boolean {
  return isOneChange(reading, changed) && changed.some(({ note }) => notes.includes(note));
}

/** The points that tell something new, the best first; those that were told in the same words with less weight. */
function untoldPoints({ reading, beginning, memory }: Telling, stretch: Stretch): Point[] {
  return pointsOf(reading, stretch, beginning)
    .filter((point) => !isToldByDevice(reading, stretch, point) && !isLeadTold(memory, point))
    .map((point) => (memory.words.has(plain(point.words)) ? { ...point, weight: point.again ?? point.weight } : point));
}

/** An enclosure has told its target already; what leads there besides is told only where it adds the guide tone, or a tension. */
function isToldByDevice(reading: Reading, { device }: Stretch, { target, notes }: Point): boolean {
  if (device === null || target === null || device.target !== target) return false;
  const own = reading.notes[notes[0]!]!.placement;
  const isTension = device.kind === 'enclosure' && own !== null && isFlatTension(own.called);
  return notes.every((note) => note >= device.from) && own?.span === reading.notes[target]!.placement?.span && !isTension;
}

interface Points {
  readonly untold: readonly Point[];
  /** Those of them that are told. */
  readonly chosen: readonly Point[];
}

/** What the stretch is; null where it was told before, or its points tell all of it. */
function ownPart({ reading, memory }: Telling, stretch: Stretch, clause: Clause, { untold, chosen }: Points, index: number): Part | null {
  if (isWithinTold(reading, memory, stretch)) return null;
  if (clause.plain && isCovered(reading, memory, stretch, untold)) {
    // Notes that a sequence has told may still come to rest.
    const mayLand = chosen.length === 0 && !memory.leads.has(stretch.to);
    const lands = mayLand ? landingAtEnd(reading, stretch.to) : null;
    return lands === null ? null : part(stretch, index, { ...lands, weight: LANDING, target: null });
  }
  if (clause.plain && (isReplaced(stretch, clause, untold) || isPartOf(stretch, chosen))) return null;
  const rest = chosen.some(({ target }) => target === stretch.to) ? [] : clause.rest;
  const target = clause.target ?? stretch.device?.target ?? null;
  return part(stretch, index, { words: [...clause.words, ...rest], verb: clause.verb, weight: clause.weight, target });
}

/** Whether a note stands in a sequence that was told and goes on after it: the line lands nowhere yet. */
function isWithinTold(reading: Reading, memory: Memory, { from, to }: Stretch): boolean {
  return (
    from === to &&
    devicesAt(reading, from).some((device) => isHeard(reading, device) && device.to > to && memory.words.has(deviceWords(device, reading)))
  );
}

/** Whether all notes of several were told, or only go on from a peak that leads somewhere. */
function isCovered(reading: Reading, memory: Memory, stretch: Stretch, points: readonly Point[]): boolean {
  if (stretch.from === stretch.to) return false;
  if (notesIn(stretch).every((note) => memory.notes.has(note))) return true;
  return isFromPeak(reading, stretch) && (points.length > 0 || memory.leads.has(stretch.from));
}

/** A plain note that leads somewhere is told by where it leads; so are two, and three that have a verb. */
function isReplaced({ from, to }: Stretch, { verb }: Clause, points: readonly Point[]): boolean {
  const size = to - from + 1;
  if (size > 3 || (size === 3 && verb === undefined)) return false;
  return points.some(({ weight, notes, target }) => {
    const tellsEnd = verb !== undefined && (notes.includes(to) || target === to);
    return weight >= TELLING && (notes.includes(from) || tellsEnd);
  });
}

/** Whether a point tells of more than all notes of a stretch: it says what they are. */
function isPartOf(stretch: Stretch, points: readonly Point[]): boolean {
  const own = notesIn(stretch);
  return points.some(({ notes }) => notes.length > own.length && own.every((note) => notes.includes(note)));
}

function part(
  { from, to }: Stretch,
  stretch: number,
  { words, verb, weight, target }: Pick<Part, 'words' | 'verb' | 'weight' | 'target'>,
): Part {
  return { words, verb, weight, stretch, isPoint: false, states: false, from, to, target };
}

function pointPart({ words, weight, states, notes, target }: Point, stretch: number, isPoint: boolean): Part {
  return { words, verb: undefined, weight, stretch, isPoint, states, from: notes[0]!, to: notes[notes.length - 1]!, target };
}
