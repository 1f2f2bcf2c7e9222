/** Which pitch a written note is: its name from the letter or the degree, its octave from the figure, the sign or the note before. */
import type { Fraction } from './fraction';
import type { DegreeHead, Direction, NoteNode, Range } from '../../../grammar/tree';
import { resolveDegree } from '../theory/figure';
import { soundingRange } from '../theory/part';
import { midi, nearestOctave, nextAbove, nextBelow } from '../theory/pitch';
import type { NoteName, Pitch } from '../theory/types';
import { replacing, report, type BuildContext } from './context';
import { spanAt } from './time';
import type { ChordSpan } from './types';

/** The chord span that sounds at a time (in a pickup, the first). */
export type SpanAt = (time: Fraction) => ChordSpan | null;

export function spanFinder(spans: readonly ChordSpan[]): SpanAt {
  return (time) => spanAt(spans, time);
}

export interface WrittenNote {
  readonly node: NoteNode;
  /** The index it will have among the notes of the phrase. */
  readonly index: number;
  readonly direction: Direction | null;
  /** Where to report: the note, or the name of the cell that holds it. */
  readonly place: Range;
  readonly span: ChordSpan | null;
  readonly previous: Pitch | null;
  /** A problem in a cell's note gets no fix here, since the text to mend stands elsewhere. */
  readonly inCell: boolean;
}

/** The pitch of a note, or null where a degree cannot be read over its chord (then the reason is reported). */
export function placePitch(written: WrittenNote, context: BuildContext): Pitch | null {
  const { head } = written.node;
  if (head.kind === 'pitch') {
    const { letter, alter, octave } = head;
    return octave === null ? inOctave(head, written, context) : { letter, alter, octave };
  }
  const name = degreeName(head, written, context);
  return name === null ? null : inOctave(name, written, context);
}

function inOctave(name: NoteName, { previous, direction }: WrittenNote, context: BuildContext): Pitch {
  if (previous === null) return nearestMiddle(name, context);
  const from = midi(previous);
  if (direction === 'up') return nextAbove(name, from);
  if (direction === 'down') return nextBelow(name, from);
  return nearestOctave(name, from);
}

/** The first note without an octave stands nearest the middle of the part's sounding range; a tie goes down. */
function nearestMiddle(name: NoteName, context: BuildContext): Pitch {
  const { low, high } = soundingRange(context.part);
  const doubledMiddle = midi(low) + midi(high);
  const below = nextBelow(name, Math.floor(doubledMiddle / 2) + 1);
  const above = { ...below, octave: below.octave + 1 };
  return doubledMiddle - 2 * midi(below) <= 2 * midi(above) - doubledMiddle ? below : above;
}

function degreeName(head: DegreeHead, { index, place, span, inCell }: WrittenNote, context: BuildContext): NoteName | null {
  const figure = `${head.accidental}${head.number}`;
  if (span === null || span.chord === null) {
    // An unread chord has its own error; a second one at each figure would only add noise.
    if (span === null || span.symbol === 'N.C.') report(context, 'figure-without-chord', 'error', place, { facts: { figure } });
    return null;
  }
  const read = resolveDegree(span.chord, head);
  if ('error' in read) {
    report(context, 'figure-not-in-chord', 'error', place, {
      facts: { figure, chord: span.symbol },
      fixes: inCell ? [] : read.fixes.map((text) => replacing(head.range, text, `Write ${text}`)),
    });
    return null;
  }
  if (read.note !== undefined) {
    const remedy = read.note.offer;
    report(context, read.note.kind, read.note.kind === 'altered-extension' ? 'hint' : 'information', place, {
      facts: { figure, chord: span.symbol, offer: remedy ?? '' },
      fixes: remedy === undefined || inCell ? [] : [replacing(head.range, remedy, `Write ${remedy}`)],
      about: { note: index, sounding: null },
    });
  }
  return read.name;
}
