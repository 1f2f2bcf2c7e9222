/**
 * The stretches that a phrase is told in: they cover its notes one after another, each note in exactly one. Of all coverings that one is
 * taken which explains most: devices before plain motion, long ones before short ones, what ends on its target before what stops short.
 */
import { devicesOf } from '../../analysis/devices/read';
import { placesOf } from '../../analysis/places';
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import { FEWEST_IN_SCALE, isToldOfAll, SCALE_LINES } from '../whole-scale';
import { breathAfter } from './breath';
import { deviceCandidates, heldCandidates, plainCandidates, type Candidate } from './candidates';
import { isInPlace, isKnown, isToldAnew, repeatsOf, type Repeat } from './repeats';
import type { Stretch } from './stretch';

/** What it is worth that a stretch begins with a beat, where one hears it begin. */
const ON_BEAT = 0.5;
const ON_BEAT_OF_TWO = 0.35;
/** What it costs to begin between the notes that wrap a target and go on through it. */
const SPLIT = 0.6;

export const stretchesOf = ofReading((reading): readonly Stretch[] => {
  const breaths = reading.phrase.notes.map(({ index }) => breathAfter(reading, index));
  /** How many breaths there are before each note. */
  const before = [0];
  for (const is of breaths) before.push(before[before.length - 1]! + (is ? 1 : 0));
  const isWhole = ({ from, to }: Candidate): boolean => before[from] === before[to];
  const ending = groupedBy(
    [...deviceCandidates(reading), ...plainCandidates(reading)].filter(isWhole).concat(heldCandidates(reading)),
    ({ to }) => [to],
  );
  const places = placesOf(reading.phrase, reading.context);
  const targets = new Map(
    devicesOf(reading)
      .filter(({ kind }) => kind === 'enclosure')
      .flatMap(({ notes, target }) => notes.slice(1).map((note) => [note, target])),
  );
  const starts = reading.phrase.notes.map(
    ({ index, onset }): Start => ({ onBeat: places.isOnBeat(onset), target: targets.get(index) ?? null }),
  );
  const found: Stretch[] = [];
  let from = 0;
  // A line that is told by its scale goes on through what only begins like another bar, but for a riff that was struck again before.
  const inScale = devicesOf(reading).filter(
    ({ kind, notes, scale }) => SCALE_LINES.has(kind) && notes.length >= FEWEST_IN_SCALE && !isToldOfAll(reading, scale!),
  );
  const all = repeatsOf(reading);
  const repeats = all.filter(
    (repeat) =>
      !isToldAnew(reading, repeat) &&
      (!repeat.partial ||
        isKnown(all, repeat.of!, reading.phrase) ||
        !inScale.some((line) => line.from < repeat.from && line.to >= repeat.to)),
  );
  for (const { to, ...fixed } of withSlips(reading, repeats)) {
    found.push(...cover(from, fixed.from - 1, ending, starts), ...fixed.stretches(breaths));
    from = to + 1;
  }
  return [...found, ...cover(from, reading.phrase.notes.length - 1, ending, starts)];
});

/** Notes that are told in one way alone. */
interface Fixed {
  readonly from: number;
  readonly to: number;
  stretches(breaths: readonly boolean[]): readonly Stretch[];
}

/** Repeats and evident side-slips, in order: a slip that comes again in its place is of the repeat, any other is told in place of one. */
function withSlips(reading: Reading, repeats: readonly Repeat[]): Fixed[] {
  const slips = devicesOf(reading).filter(({ kind, from }) => kind === 'side-slip' && reading.slips.has(from));
  const meets = (one: Span, other: Span): boolean => one.from <= other.to && one.to >= other.from;
  const holds = (one: Repeat, other: Span): boolean =>
    isInPlace(one) && one.changed.length === 0 && one.from <= other.from && one.to >= other.to;
  const own = slips.filter((slip) => !repeats.some((repeat) => holds(repeat, slip)));
  const kept = repeats.filter((repeat) => !own.some((slip) => meets(repeat, slip)));
  return [
    ...kept.map((repeat): Fixed => ({ from: repeat.from, to: repeat.to, stretches: (breaths) => parted(repeat, breaths) })),
    ...own.map((device): Fixed => {
      const { from, to } = device;
      return { from, to, stretches: () => [{ from, to, as: 'device', device, repeat: null }] };
    }),
  ].sort((a, b) => a.from - b.from);
}

type Span = Pick<Stretch, 'from' | 'to'>;

/** A copy with breaths in it is as many stretches, and told at the first. */
function parted(repeat: Repeat, breaths: readonly boolean[]): Stretch[] {
  const found: Stretch[] = [];
  let from = repeat.from;
  for (let note = repeat.from; note <= repeat.to; note += 1) {
    if (!breaths[note] && note < repeat.to) continue;
    found.push({ from, to: note, as: 'repeat', device: null, repeat });
    from = note + 1;
  }
  return found;
}

/** A note as the first of a stretch. */
interface Start {
  readonly onBeat: boolean;
  /** What it wraps together with the note before. */
  readonly target: number | null;
}

/** On a beat a single note begins nothing, two hardly anything. */
function worthOfStart({ from, to }: Stretch, { onBeat, target }: Start): number {
  const begins = !onBeat || to === from ? 0 : to - from >= 2 ? ON_BEAT : ON_BEAT_OF_TWO;
  return begins - (target !== null && to >= target && to > from ? SPLIT : 0);
}

/** The best covering of some notes; `ending` are the candidates of the phrase by their last notes. */
function cover(first: number, last: number, ending: ReadonlyMap<number, readonly Candidate[]>, starts: readonly Start[]): Stretch[] {
  const best: { score: number; last: Candidate | null }[] = [{ score: 0, last: null }];
  for (let note = first; note <= last; note += 1) {
    let chosen: (typeof best)[number] = { score: -Infinity, last: null };
    for (const one of ending.get(note) ?? []) {
      if (one.from < first) continue;
      const score = best[one.from - first]!.score + one.score + worthOfStart(one, starts[one.from]!);
      if (score > chosen.score) chosen = { score, last: one };
    }
    best.push(chosen);
  }
  const found: Stretch[] = [];
  for (let at = last - first + 1; at > 0; ) {
    const stretch = best[at]!.last!;
    found.push(stretch);
    at = stretch.from - first;
  }
  return found.reverse();
}
