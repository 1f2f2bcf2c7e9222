/** Some bars of a phrase as a phrase of their own: in the same time, over the same chords, its notes counted from 0. */
import type { LineBar } from '../../../grammar/tree';
import { noUses, type BuildContext } from './context';
import { layLineBar, type LineInProgress } from './line';
import { spanFinder } from './place-pitch';
import { lastNotAfter } from './time';
import type { Definitions, Note, Phrase } from './types';

/** Indexes into `phrase.bars`, both included. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** What is written in the bars of a stretch, and the text that its ranges count in. */
export interface Writing {
  readonly text: string;
  readonly nodes: readonly LineBar[];
}

/** Without claims and figures. Its bars and chords are those of the whole; null where the stretch begins within a note. */
export function excerptOf(phrase: Phrase, { from, to }: Stretch, { text, nodes }: Writing, definitions: Definitions): Phrase | null {
  const before = from === 0 ? 'nothing' : lastBefore(phrase, from);
  if (before === null) return null;
  const { spans, key, part } = phrase;
  const first = firstNoteOf(phrase, from);
  const line: LineInProgress = { notes: [], groups: [], previous: phrase.notes[first - 1]?.pitch ?? null, before };
  const context: BuildContext = { text, definitions, uses: noUses(), key, part, problems: [], ends: [] };
  phrase.bars.slice(from, to + 1).forEach((bar, i) => {
    layLineBar(nodes[i]!, { bar, line, spanAt: spanFinder(spans), context });
  });
  return { ...phrase, text, notes: line.notes, groups: line.groups, figures: [], claims: [], problems: context.problems };
}

/** The index of the first note that begins in a bar or later; as many as there are notes where none does. */
export function firstNoteOf({ bars, notes }: Phrase, bar: number): number {
  const { onset } = bars[bar]!;
  let low = 0;
  let high = notes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (notes[middle]!.onset.compare(onset) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** What stands just before a bar in time; null where that cannot be told from its last slot alone. */
function lastBefore({ bars, groups }: Phrase, bar: number): LineInProgress['before'] | null {
  const { onset } = bars[bar]!;
  const last = groups[lastNotAfter(groups, onset)];
  const group = last !== undefined && last.onset.compare(onset) >= 0 ? groups[groups.indexOf(last) - 1] : last;
  const slot = group?.slots[group.slots.length - 1];
  if (slot?.kind === 'rest') return 'rest';
  return slot !== undefined && slot.note !== null ? 'note' : null;
}

/** Whether a note, as an excerpt has it, is one of the whole. */
export function isSameNote(a: Note, b: Note): boolean {
  return a.onset.equals(b.onset) && a.duration.equals(b.duration) && a.midi === b.midi && a.span === b.span && a.bar === b.bar;
}
