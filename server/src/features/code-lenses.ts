/** What stands above each phrase: what can be done with it, and the phrase in one line. */
import type { Problem } from '../../../grammar/tree';
import { readPhrase, sameOptions } from '../analysis/read';
import type { TheoryOptions } from '../analysis/types';
import { oneLine } from '../explain/one-line';
import { guarded } from '../model/faults';
import { perPart } from '../model/per-part';
import type { Part, Snapshot } from '../model/snapshot';
import type { Phrase } from '../model/types';
import type { Settings } from './options';
import type { WaitingFinding } from './score/types';

export interface CodeLens {
  /** The title of the phrase, or its keyword where it has none. */
  readonly start: number;
  readonly end: number;
  readonly title: string;
  readonly action: 'play' | 'show' | 'explain';
  /** Offset of the phrase’s keyword: what an action is done with is the phrase that stands there. */
  readonly keyword: number;
}

/** A lens of which it is not told yet what it says. */
export type LensPlace = Omit<CodeLens, 'title'> & {
  /** The index of its phrase among the phrases of the file. */
  readonly phrase: number;
};

/** In the order in which they stand. */
export const LENS_ACTIONS = ['play', 'show', 'explain'] as const;

/** None above a phrase without a note: there is nothing to hear, to see or to sum up. */
export function codeLenses(snapshot: Snapshot, settings: Settings): readonly CodeLens[] {
  const titles = titlesOf(snapshot, settings.theory).filter((said) => said !== null);
  return lensPlaces(snapshot, settings).map(({ phrase, ...place }) => ({
    ...place,
    title: titles[phrase]![LENS_ACTIONS.indexOf(place.action)]!,
  }));
}

/** The same without what they say, which needs a phrase to be read: for an editor that asks for that where it shows a lens. */
export function lensPlaces(snapshot: Snapshot, settings: Settings): readonly LensPlace[] {
  return lensesBySlice(snapshot, settings).flatMap(({ kept, start, phrase }) => {
    const place = { start: start + kept.start, end: start + kept.end, keyword: start + kept.keyword, phrase };
    return LENS_ACTIONS.map((action) => ({ ...place, action }));
  });
}

/** The place of the lenses above one phrase. */
export interface SliceLenses {
  /** Counted from the start of the slice; the same object as long as the slice is. */
  readonly kept: Pick<CodeLens, 'start' | 'end' | 'keyword'>;
  /** UTF-16 offset of the slice in the file. */
  readonly start: number;
  /** The index of its phrase among the phrases of the file. */
  readonly phrase: number;
}

/** The places of the lenses, slice by slice, of those that have some. Above each are lenses of all actions. */
export function lensesBySlice(snapshot: Snapshot, { codeLenses }: Settings): readonly SliceLenses[] {
  if (!codeLenses) return [];
  const { parts, slices } = snapshot;
  const found: SliceLenses[] = [];
  let phrases = 0;
  placesOfParts(snapshot, null).forEach((kept, i) => {
    if (parts[i]!.phrase === null) return;
    if (kept !== null) found.push({ kept, start: slices[i]!.start, phrase: phrases });
    phrases += 1;
  });
  return found;
}

/** Null where nothing stands above. */
const placesOfParts = perPart<SliceLenses['kept'] | null, null>(
  ({ phrase }) => {
    if (phrase === null || phrase.notes.length === 0) return null;
    const { title, keyword } = phrase.item;
    const { range } = title ?? keyword;
    return { start: range.start, end: range.end, keyword: keyword.range.start };
  },
  () => true,
);

/** What a lens above a phrase says, but for findings that wait, and the phrase's keyword; null where no phrase of that index has notes now. */
export function lensAbove(
  { phrases, parts }: Snapshot,
  index: number,
  action: CodeLens['action'],
  theory: TheoryOptions,
  waiting: readonly WaitingFinding[] = [],
): Pick<CodeLens, 'title' | 'action' | 'keyword'> | null {
  const placed = phrases[index];
  if (placed === undefined || placed.phrase.notes.length === 0) return null;
  const { start, phrase } = placed;
  const part = parts.find((one) => one.phrase === phrase)!;
  const waits = ({ rule, range }: Problem): boolean =>
    waiting.some((one) => one.rule === rule && one.start === start + range.start && one.end === start + range.end);
  return { title: titleOf(part, phrase, action, theory, waits), action, keyword: start + phrase.item.keyword.range.start };
}

function titleOf(
  { parsed }: Part,
  phrase: Phrase,
  action: CodeLens['action'],
  theory: TheoryOptions,
  waits?: (problem: Problem) => boolean,
): string {
  if (action === 'explain')
    return guarded('the line above a phrase', 'Open the walk-through', () => oneLine(readPhrase(phrase, theory), parsed.problems, waits));
  return action === 'play' ? 'Play' : 'Show the score';
}

/** In the order of the actions; null for what is no phrase. */
const titlesOf = perPart<readonly string[] | null, TheoryOptions>((part, theory) => {
  const { phrase } = part;
  if (phrase === null) return null;
  return phrase.notes.length === 0 ? [] : LENS_ACTIONS.map((action) => titleOf(part, phrase, action, theory));
}, sameOptions);
