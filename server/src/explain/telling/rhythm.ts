/** Bars that take up the rhythm of a bar before, with other notes: how a riff goes on over the next chord. */
import { placesOf } from '../../analysis/places';
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import type { Bar, Note } from '../../model/types';
import { writtenBars } from './bars';
import { firstSame, returnsOf } from './returns';

const FEWEST = 3;

/** Bars that share a rhythm for it to be told of the whole line. */
const FEWEST_BARS = 3;

/** The bars, in order, that share a rhythm with other notes: of the rhythm that most of them have, three at least; none where there is no such rhythm. Bars that come again as they were are left out. */
export const sharedRhythm = ofReading((reading): readonly number[] => {
  const again = new Set(returnsOf(reading).flatMap(({ bar, bars }) => Array.from({ length: bars }, (_, i) => bar + i)));
  const own = [...rhythmsOf(reading)].filter(([bar]) => !again.has(bar) && firstSame(reading, bar) === null);
  const lines = writtenBars(reading);
  const groups = [...groupedBy(own, ([, rhythm]) => [rhythm]).values()].map((group) => group.map(([bar]) => bar));
  const shared = groups.filter((bars) => new Set(bars.map((bar) => lines.get(bar)!.line)).size >= FEWEST_BARS);
  return shared.reduce<readonly number[]>((most, bars) => (bars.length > most.length ? bars : most), []);
});

/** The number of the bar, one or two before, whose rhythm a bar takes up; null where there is none, the rhythm is one that any line has, or it is told of the whole line. */
export function rhythmTakenUp(reading: Reading, bar: number): number | null {
  if (sharedRhythm(reading).includes(bar)) return null;
  const rhythms = rhythmsOf(reading);
  const own = rhythms.get(bar);
  return own === undefined ? null : ([bar - 1, bar - 2].find((of) => of > 0 && rhythms.get(of) === own) ?? null);
}

/** Those of the bars that have one of their own, by the numbers of the bars. */
const rhythmsOf = ofReading(
  (reading): ReadonlyMap<number, string> =>
    new Map(
      [...writtenBars(reading)].flatMap(([number, { bar, notes }]): [number, string][] => {
        const rhythm = rhythmOf(reading, bar, notes);
        return rhythm === null ? [] : [[number, rhythm]];
      }),
    ),
);

/** Notes of a riff that is known by its lengths and its shape together. */
const FEWEST_OF_SHAPE = 4;

/** Notes of a rhythm that is known by its lengths alone: long and short ones before the last. */
const FEWEST_OF_LENGTHS = 5;

/**
 * Onsets and lengths in a bar as text; the last length is left open. Null where nothing marks it: a syncopation or a rest between notes,
 * lengths that differ before the last note, or notes of two lengths before a rest of a beat or more, which come again with the same ups and downs.
 */
function rhythmOf({ phrase, context }: Reading, bar: Bar, notes: readonly Note[]): string | null {
  const places = placesOf(phrase, context);
  if (notes.length < FEWEST) return null;
  const endOf = ({ onset, duration }: Note): Note['onset'] => onset.add(duration);
  const isMarked = notes
    .slice(1)
    .some(
      (note, i) =>
        note.onset.compare(endOf(notes[i]!)) > 0 || (!places.isOnBeat(notes[i]!.onset) && notes[i]!.duration.compare(bar.meter.beat) >= 0),
    );
  const times = notes
    .map((note, i) => `${note.onset.sub(bar.onset).toFraction()}:${i === notes.length - 1 ? '' : note.duration.toFraction()}`)
    .join(' ');
  const lengths = new Set(notes.slice(0, -1).map(({ duration }) => duration.toFraction()));
  if (isMarked || (notes.length >= FEWEST_OF_LENGTHS && lengths.size > 1)) return times;
  const last = notes[notes.length - 1]!;
  const isRiff =
    notes.length >= FEWEST_OF_SHAPE &&
    notes.some(({ duration }) => !duration.equals(notes[0]!.duration)) &&
    bar.onset.add(bar.length).sub(endOf(last)).compare(bar.meter.beat) >= 0;
  return isRiff
    ? `${times} ${notes
        .slice(1)
        .map((note, i) => Math.sign(note.midi - notes[i]!.midi))
        .join()}`
    : null;
}
