/** What is worth saying of a stretch beside what it is: where it leads, what happens inside it, what the signs mean. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { talkOf, wordsOf } from '../device-words';
import { plain, say } from '../say';
import { harmonyPoints, roleIn } from './harmony-points';
import { isAlongBass } from './passing-chords';
import { BESIDES, type Point } from './point';
import { notesIn, type Stretch } from './stretch';
import { goesWithoutSaying, isApproach, isSpelledOut, isWithinChord } from './unsaid';

/** The points of a stretch in the order of weight, each thing once; `beginning` are the devices of the phrase, but those told as stretches, by their first notes. */
export function pointsOf(reading: Reading, stretch: Stretch, beginning: ReadonlyMap<number, readonly Device[]>): readonly Point[] {
  const devices = notesIn(stretch).flatMap((note) => beginning.get(note) ?? []);
  // What slips on purpose is not heard against its chord.
  const isAside = (note: number): boolean => reading.slips.has(note);
  const found = [...devices.flatMap((device) => devicePoint(reading, device, stretch, devices)), ...harmonyPoints(reading, stretch)].filter(
    ({ notes, target }) => !notes.some(isAside) && (target === null || !isAside(target)),
  );
  return onceOnly(
    [...found].sort((a, b) => b.weight - a.weight || a.notes[0]! - b.notes[0]!),
    stretch.device?.target ?? null,
  );
}

/** What leads to a target is said once; beside a figure that has told it (`told`), all that leads there is. */
function onceOnly(points: readonly Point[], told: number | null): Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const isShared = (other: Point): boolean => other.notes.some((note) => point.notes.includes(note));
    // An ornament is heard without being named where more is said of its note.
    const same = kept.some(
      (other) =>
        plain(other.words) === plain(point.words) ||
        (point.target !== null && point.target !== told && other.target === point.target) ||
        (isShared(other) && (other.target === point.target || point.target === null || point.weight < 4)),
    );
    if (!same) kept.push(point);
  }
  return kept;
}

function devicePoint(reading: Reading, device: Device, stretch: Stretch, others: readonly Device[]): Point[] {
  if (goesWithoutSaying(reading, device, stretch)) return [];
  const other = besides(
    reading,
    device,
    [...others, ...devicesAt(reading, device.to)].filter((one) => !isAlongBass(reading, one)),
  );
  const role = other === null ? roleIn(reading, device) : null;
  const more = other === null ? (role === null ? [] : say`; ${role.words}`) : say`; ${wordsOf(other.kind).after!(talkOf(other, reading))}`;
  const { words, states } = deviceClause(reading, device, stretch);
  return [
    {
      words: [...words, ...more],
      states: states || more.length > 0,
      weight: weightOf(reading, device, other),
      again: wordsOf(device.kind).again,
      notes: device.notes,
      target: device.target,
    },
  ];
}

function besides(reading: Reading, { kind, notes, target }: Device, others: readonly Device[]): Device | null {
  return kind !== 'enclosure'
    ? null
    : (others.find(
        (one) =>
          BESIDES.has(one.kind) &&
          !(one.kind === 'tension-resolution' && isApproach(reading, one)) &&
          one.target === target &&
          one.notes.every((note) => notes.includes(note)),
      ) ?? null);
}

/** What stays over the dominant is heard less than what goes on into the next chord; an enclosure tells what is besides, too. */
function weightOf(reading: Reading, device: Device, other: Device | null): number {
  if (other !== null) return Math.max(wordsOf(device.kind).weight, wordsOf(other.kind).weight) + 0.5;
  return device.kind === 'tension-resolution' && isWithinChord(reading, device) ? 6 : wordsOf(device.kind).weight;
}

function deviceClause(reading: Reading, device: Device, stretch: Stretch): Pick<Point, 'words' | 'states'> {
  const words = wordsOf(device.kind);
  const talk = talkOf(device, reading);
  const isEnclosed =
    stretch.device !== null &&
    stretch.device.target !== null &&
    stretch.device.target === device.target &&
    stretch.device.kind === 'enclosure';
  const endsRun = stretch.device?.kind === 'scale-run' && stretch.to === device.target;
  if ((isEnclosed || endsRun) && words.after !== undefined) return { words: words.after(talk), states: true };
  const clause = isSpelledOut(stretch) && words.spelledOut !== undefined ? words.spelledOut(talk) : words.clause(talk);
  return { words: clause, states: words.states?.(talk) === true };
}
