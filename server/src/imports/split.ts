/** Measures with repeat signs inside them, split there: a sign holds at the end of a measure. */
import type { Fraction } from '../model/fraction';
import { later, ZERO } from '../model/time';
import { Unreadable } from './unreadable';
import type { InnerRepeat, Signs, SourceMeasure, TuneNote } from './types';

/** Of one bar; two stand back to back. */
const MOST_INSIDE = 16;

/** The same music, in which repeat signs stand only where measures meet. Throws `Unreadable` where a bar has more of them than can be meant. */
export function splitMeasures(measures: readonly SourceMeasure[]): SourceMeasure[] {
  return measures.flatMap((measure) => (measure.inside.length === 0 ? [measure] : piecesOf(measure)));
}

function piecesOf(measure: SourceMeasure): SourceMeasure[] {
  if (measure.inside.length > MOST_INSIDE)
    throw new Unreadable(`measure ${measure.number}: more than ${MOST_INSIDE} repeat signs stand inside the bar. Export the score again.`);
  const length = measure.length.equals(0) ? measure.meter.length : measure.length;
  const within = measure.inside.filter(({ at }) => at.compare(0) > 0 && at.compare(length) < 0).sort((a, b) => a.at.compare(b.at));
  const places = within.map(({ at }) => at).filter((at, i, all) => i === 0 || !at.equals(all[i - 1]!));
  const edges = [ZERO, ...places, length];
  // A sign at an end of the bar holds as if it stood there.
  const signsAt = (edge: Fraction): InnerRepeat[] =>
    measure.inside.filter(({ at }) => at.equals(edge) || (edge === length && at.compare(length) > 0));
  return edges.slice(0, -1).map((from, i): SourceMeasure => {
    const to = edges[i + 1]!;
    const [isFirst, isLast] = [i === 0, i === places.length];
    const signs: Signs = {
      ...endSigns(measure, isLast),
      ...startSigns(measure, isFirst),
      forward: (isFirst && measure.signs.forward) || signsAt(from).some(({ forward }) => forward),
      backward: signsAt(to).find(({ backward }) => backward !== null)?.backward ?? (isLast ? measure.signs.backward : null),
    };
    return {
      ...measure,
      signs,
      inside: [],
      length: to.sub(from),
      implicit: measure.implicit || !isFirst,
      opens: isFirst ? measure.opens : true,
      name: isFirst ? measure.name : null,
      notes: measure.notes.flatMap((note) => cutNote(note, from, to)),
      chords: measure.chords
        .filter(({ onset }) => onset.compare(from) >= 0 && (isLast || onset.compare(to) < 0))
        .map((chord) => ({ ...chord, onset: chord.onset.sub(from) })),
    };
  });
}

function startSigns({ signs }: SourceMeasure, isFirst: boolean): Pick<Signs, 'endingStart' | 'segno' | 'coda'> {
  return { endingStart: isFirst ? signs.endingStart : null, segno: isFirst && signs.segno, coda: isFirst && signs.coda };
}

function endSigns({ signs }: SourceMeasure, isLast: boolean): Pick<Signs, 'endingStop' | 'jump' | 'toCoda' | 'fine'> {
  return {
    endingStop: isLast && signs.endingStop,
    jump: isLast ? signs.jump : null,
    toCoda: isLast && signs.toCoda,
    fine: isLast && signs.fine,
  };
}

/** What of a note sounds between two times, counted from the first; what is cut is tied. */
function cutNote(note: TuneNote, from: Fraction, to: Fraction): TuneNote[] {
  const end = note.onset.add(note.length);
  if (note.onset.compare(to) >= 0 || end.compare(from) <= 0) return [];
  const start = later(note.onset, from);
  const stop = end.compare(to) < 0 ? end : to;
  return [
    {
      ...note,
      onset: start.sub(from),
      length: stop.sub(start),
      tie: { from: note.tie.from || stop.compare(end) < 0, to: note.tie.to || start.compare(note.onset) > 0 },
    },
  ];
}
