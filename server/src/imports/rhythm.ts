/** A bar's rhythm as beat groups of equal slots: one group a beat, or one over several beats where a tuplet needs it. */
import { Fraction } from '../model/fraction';
import { leastMultiple } from '../model/time';

/** What sounds, in beats of the bar from 0; `text` is the note as it is written. */
export interface BeatNote {
  readonly from: Fraction;
  readonly to: Fraction;
  /** Null where the note began in a bar before. */
  readonly text: string | null;
}

interface Group {
  readonly at: number;
  readonly beats: number;
  readonly slots: number;
}

/** More slots than that in one group are no rhythm that anyone reads. */
export const MOST_SLOTS = 32;
/** The finest grid that takes what fits in no group: it has triplets and thirty-seconds. */
const GRID = 24;

/** So many beats of a length in quarters. */
export interface BeatSpan {
  readonly beats: number;
  readonly beat: Fraction;
}

/** Whether the rhythm of a bar can be written as it is. */
export function isWritable(span: BeatSpan, notes: readonly BeatNote[]): boolean {
  return grouped(span, edgesOf(notes)).every(({ slots }) => slots <= MOST_SLOTS);
}

/** The same notes on the grid; those that fall together there keep no length and go. */
export function onGrid(notes: readonly BeatNote[]): BeatNote[] {
  const nearest = (time: Fraction): Fraction => time.mul(GRID).round().div(GRID);
  return notes.map((note) => ({ ...note, from: nearest(note.from), to: nearest(note.to) })).filter(({ from, to }) => to.compare(from) > 0);
}

/** The text of a bar of so many beats. A pickup needs a group for each beat. */
export function barText(span: BeatSpan, notes: readonly BeatNote[], kind: 'bar' | 'pickup'): string {
  const { beats } = span;
  const edges = edgesOf(notes).filter((time) => time.compare(0) > 0 && time.compare(beats) < 0);
  // One slot that fills the bar needs no beats.
  if (kind === 'bar' && edges.length === 0) return groupText({ at: 0, beats, slots: 1 }, notes).replace(/^\d+:/, '');
  return grouped(span, edges)
    .map((group) => groupText(group, notes))
    .join(' ');
}

function edgesOf(notes: readonly BeatNote[]): Fraction[] {
  return notes.flatMap(({ from, to }) => [from, to]);
}

/** What a group over several beats costs more than its slots: it has to be worth it. */
const WEIGHT_COST = 1.5;

/** The groups with the fewest slots. A group over several beats stands only where a tuplet crosses its beats. */
function grouped({ beats, beat }: BeatSpan, edges: readonly Fraction[]): Group[] {
  const best: { cost: number; groups: readonly Group[] }[] = [{ cost: 0, groups: [] }];
  for (let end = 1; end <= beats; end += 1) {
    let found: { cost: number; groups: readonly Group[] } | null = null;
    for (let at = end - 1; at >= 0; at -= 1) {
      const size = end - at;
      const slots = slotsIn(at, size, edges);
      if (size > 1 && isPlain(beat.mul(size).div(slots))) continue;
      const cost = best[at]!.cost + slots + (size > 1 ? WEIGHT_COST : 0);
      if (found === null || cost < found.cost) found = { cost, groups: [...best[at]!.groups, { at, beats: size, slots }] };
    }
    best.push(found!);
  }
  return [...best[beats]!.groups];
}

/** Whether a length is made of halves of halves: what needs no tuplet. */
function isPlain({ d }: Fraction): boolean {
  return (d & (d - 1n)) === 0n;
}

function slotsIn(at: number, beats: number, edges: readonly Fraction[]): number {
  const inside = edges.filter((time) => time.compare(at) > 0 && time.compare(at + beats) < 0);
  return inside.reduce((slots, time) => leastMultiple(slots, Number(time.sub(at).div(beats).d)), 1);
}

function groupText({ at, beats, slots }: Group, notes: readonly BeatNote[]): string {
  const texts = Array.from({ length: slots }, (_, i) => {
    const time = new Fraction(beats * i).div(slots).add(at);
    const note = notes.find(({ from, to }) => from.compare(time) <= 0 && to.compare(time) > 0);
    if (note === undefined) return '.';
    return note.text !== null && note.from.equals(time) ? note.text : '~';
  });
  return `${beats > 1 ? `${beats}:` : ''}${texts.join('-')}`;
}
