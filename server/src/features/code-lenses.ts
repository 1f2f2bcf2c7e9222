/** What stands above each phrase: what can be done with it, and the phrase in one line. */
import { readPhrase, sameOptions } from '../analysis/read';
import type { TheoryOptions } from '../analysis/types';
import { oneLine } from '../explain/one-line';
import { guarded } from '../model/faults';
import { perPart } from '../model/per-part';
import type { Part, Snapshot } from '../model/snapshot';
import type { Phrase } from '../model/types';
import type { Settings } from './options';

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

const ACTIONS = ['play', 'show', 'explain'] as const;

/** None above a phrase without a note: there is nothing to hear, to see or to sum up. */
export function codeLenses(snapshot: Snapshot, settings: Settings): readonly CodeLens[] {
  const titles = titlesOf(snapshot, settings.theory).filter((said) => said !== null);
  return lensPlaces(snapshot, settings).map(({ phrase, ...place }) => ({ ...place, title: titles[phrase]![ACTIONS.indexOf(place.action)]! }));
}

/** The same without what they say, which needs a phrase to be read: for an editor that asks for that where it shows a lens. */
export function lensPlaces({ phrases }: Snapshot, { codeLenses }: Settings): readonly LensPlace[] {
  if (!codeLenses) return [];
  return phrases.flatMap(({ start, phrase }, index): LensPlace[] => {
    if (phrase.notes.length === 0) return [];
    const { title, keyword } = phrase.item;
    const { range } = title ?? keyword;
    const place = { start: start + range.start, end: start + range.end, keyword: start + keyword.range.start, phrase: index };
    return ACTIONS.map((action) => ({ ...place, action }));
  });
}

/** What a lens above a phrase says, and the phrase's keyword; null where no phrase of that index has notes now. */
export function lensAbove({ phrases, parts }: Snapshot, index: number, action: CodeLens['action'], theory: TheoryOptions): Pick<CodeLens, 'title' | 'action' | 'keyword'> | null {
  const placed = phrases[index];
  if (placed === undefined || placed.phrase.notes.length === 0) return null;
  const { start, phrase } = placed;
  const part = parts.find((one) => one.phrase === phrase)!;
  return { title: titleOf(part, phrase, action, theory), action, keyword: start + phrase.item.keyword.range.start };
}

function titleOf({ parsed }: Part, phrase: Phrase, action: CodeLens['action'], theory: TheoryOptions): string {
  if (action === 'explain') return guarded('the line above a phrase', 'Open the walk-through', () => oneLine(readPhrase(phrase, theory), parsed.problems));
  return action === 'play' ? 'Play' : 'Show the score';
}

/** In the order of the actions; null for what is no phrase. */
const titlesOf = perPart<readonly string[] | null, TheoryOptions>(
  (part, theory) => {
    const { phrase } = part;
    if (phrase === null) return null;
    return phrase.notes.length === 0 ? [] : ACTIONS.map((action) => titleOf(part, phrase, action, theory));
  }, sameOptions);
