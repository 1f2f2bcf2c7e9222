/** A tune cut into phrases: where it must be, where it may be, and every so many bars. Notes that are held over a bar line are not cut, but where the key changes. */
import type { Fraction } from '../model/fraction';
import { lastNotAfter } from '../model/time';
import type { Report } from './report';
import type { Tune, TuneBar, TuneChord, TuneNote } from './types';

export interface CutPhrase {
  readonly name: string | null;
  readonly bars: readonly TuneBar[];
  /** Numbers of its first and last bar in the tune with repeats written out, pickups not counted. */
  readonly from: number;
  readonly to: number;
  /** What sounds in it; the first chord is the one that goes on from before. */
  readonly notes: readonly TuneNote[];
  readonly chords: readonly TuneChord[];
}

/** A passage of at most so many bars stays whole unless a number of bars is asked for. */
const LONGEST_WHOLE = 12;
const USUAL_BARS = 8;
/** Fewer bars than half a phrase are no phrase of their own. */
const FEWEST = 0.5;

/** `every`: bars a phrase; null for eight, with passages of up to twelve bars left whole. */
export function cutTune(tune: Tune, every: number | null, report: Report): CutPhrase[] {
  const passages: TuneBar[][] = [];
  for (const bar of tune.bars) {
    const current = passages[passages.length - 1];
    // A pickup belongs to what it leads into, be there a repeat sign or a mark between them.
    const isLeadingIn = current?.every(({ isPickup }) => isPickup) === true && bar.cut !== 'must';
    if (current === undefined || (bar.cut !== null && !isLeadingIn)) passages.push([bar]);
    else current.push(bar);
  }
  let count = 0;
  return passages.flatMap((passage) => {
    const opening = passage.slice(0, passage.findIndex(({ isPickup }) => !isPickup) + 1 || undefined);
    const name = opening.find(({ source }) => source.name !== null)?.source.name ?? null;
    for (const { source } of passage)
      if (source.name !== null && source.name !== name) report.leftOut(`“${source.name}”, where no phrase begins`, source.number);
    return stretches(passage, every).map((bars, i): CutPhrase => {
      const from = count + 1;
      count += bars.filter(({ isPickup }) => !isPickup).length;
      const to = Math.max(from, count);
      return {
        name: name === null || i === 0 ? name : `${name}, ${from === to ? `bar ${from}` : `bars ${from}–${to}`}`,
        bars,
        from,
        to,
        ...heardIn(tune, bars, report),
      };
    });
  });
}

function stretches(passage: readonly TuneBar[], every: number | null): TuneBar[][] {
  const size = every ?? USUAL_BARS;
  const counted = passage.filter(({ isPickup }) => !isPickup).length;
  if (every === null && counted <= LONGEST_WHOLE) return [[...passage]];
  const cuts: TuneBar[][] = [[]];
  let left = counted;
  for (const bar of passage) {
    const current = cuts[cuts.length - 1]!;
    const length = current.filter(({ isPickup }) => !isPickup).length;
    // What would be left must be a phrase too, unless the number was asked for.
    if (length >= size && length % size === 0 && !bar.isTiedInto && (every !== null || left > size * FEWEST)) cuts.push([]);
    cuts[cuts.length - 1]!.push(bar);
    if (!bar.isPickup) left -= 1;
  }
  return cuts;
}

function heardIn({ notes, chords }: Tune, bars: readonly TuneBar[], report: Report): Pick<CutPhrase, 'notes' | 'chords'> {
  const start = bars[0]!.onset;
  const last = bars[bars.length - 1]!;
  const end = last.onset.add(last.length);
  // Over a pickup no chord is written: what goes on from before is said at the first bar line.
  const line = (bars.find(({ isPickup }) => !isPickup) ?? bars[0]!).onset;
  const goesOn = chords.findLast(({ onset }) => onset.compare(start) < 0);
  const own = chords.filter(({ onset }) => onset.compare(start) >= 0 && onset.compare(end) < 0);
  const isRestated = own.some(({ onset }) => onset.compare(line) <= 0);
  return {
    notes: notes.slice(lastNotAfter(notes, start), lastNotAfter(notes, end) + 1).flatMap((note) => clipped(note, start, end, report)),
    chords: goesOn === undefined || isRestated ? own : [{ ...goesOn, onset: line }, ...own],
  };
}

function clipped(note: TuneNote, start: Fraction, end: Fraction, report: Report): TuneNote[] {
  const stop = note.onset.add(note.length);
  if (note.onset.compare(end) >= 0 || stop.compare(start) <= 0) return [];
  if (note.onset.compare(start) < 0) {
    report.leftOut('a tie over the bar line where the key changes: the note is struck again', note.measure);
    return [{ ...note, onset: start, length: (stop.compare(end) < 0 ? stop : end).sub(start), marks: [] }];
  }
  return [stop.compare(end) > 0 ? { ...note, length: end.sub(note.onset) } : note];
}
