/** An immutable picture of one version of a document: its slices, its definitions, and its phrases in exact time. */
import { parseFile } from '../../../grammar/parser';
import { sliceFile } from '../../../grammar/slices';
import type { ParsedSlice, PhraseItem, PlacedSlice, Problem } from '../../../grammar/tree';
import { partByName } from '../theory/part';
import { buildPhrase, type Built } from './build';
import { noUses, stillAnswered, type BuildContext } from './context';
import { collectDefinitions } from './definitions';
import { checkChanges } from './harmony';
import type { Definitions, Phrase, PlacedProblem } from './types';

export interface PlacedPhrase {
  /** UTF-16 offset of the phrase's slice in the file: add it to every range of the phrase. */
  readonly start: number;
  readonly phrase: Phrase;
}

export interface Snapshot {
  readonly uri: string;
  readonly version: number;
  readonly text: string;
  readonly slices: readonly PlacedSlice[];
  readonly definitions: Definitions;
  readonly phrases: readonly PlacedPhrase[];
  /** Syntax and model problems (not yet those of the analysis). */
  readonly problems: readonly PlacedProblem[];
}

/**
 * The phrase whose slice holds an offset; null where that slice is no phrase. Where one slice ends and the next begins, it is the next.
 * Hovers, actions, scores and walk-throughs all ask here, so that they speak of one phrase.
 */
export function phraseAt({ slices, phrases }: Pick<Snapshot, 'slices' | 'phrases'>, offset: number): PlacedPhrase | null {
  const slice = slices.findLast(({ start }) => start <= offset);
  return slice === undefined ? null : (phrases.find(({ start }) => start === slice.start) ?? null);
}

/** The phrase that is looked at from an offset: the one there, between phrases the next one, after the last one that; null where the document has none. */
export function phraseNear(snapshot: Pick<Snapshot, 'slices' | 'phrases'>, offset: number): PlacedPhrase | null {
  const { phrases } = snapshot;
  return phraseAt(snapshot, offset) ?? phrases.find(({ start }) => start >= offset) ?? phrases[phrases.length - 1] ?? null;
}

/** The title of the lesson; null where the file has none, or one without a title. */
export function lessonTitle({ slices }: Pick<Snapshot, 'slices'>): string | null {
  const lesson = slices.map(({ parsed }) => parsed.item).find((item) => item.kind === 'lesson');
  return lesson?.title?.value ?? null;
}

/** Longer files are not analysed: two million characters are some twenty thousand phrases, far beyond any lesson. */
export const LONGEST_FILE = 2_000_000;

/** A phrase is read anew at every keystroke in it: one of a hundred thousand characters has thousands of bars, and typing would lag. */
export const LONGEST_ITEM = 100_000;

/** Opens a version of a document; phrases that the edit did not touch are taken over from the version before. */
export function openSnapshot(uri: string, version: number, text: string, previous?: Snapshot): Snapshot {
  if (text.length > LONGEST_FILE) return refused({ uri, version, text }, { start: 0, characters: text.length, limit: LONGEST_FILE, what: 'file' });
  const long = text.length > LONGEST_ITEM ? sliceFile(text).find((slice) => slice.text.length > LONGEST_ITEM) : undefined;
  if (long !== undefined) return refused({ uri, version, text }, { start: long.start, characters: long.text.length, limit: LONGEST_ITEM, what: 'part' });
  const slices = parseFile(text, previous?.slices);
  const { definitions, problems } = collectDefinitions(slices);
  const phrases: PlacedPhrase[] = [];
  for (const { start, parsed } of slices) {
    for (const problem of parsed.problems) problems.push({ start, problem });
    for (const problem of definitionProblems(parsed, definitions)) problems.push({ start, problem });
    if (parsed.item.kind !== 'phrase') continue;
    const phrase = phraseOf(parsed, parsed.item, definitions);
    phrases.push({ start, phrase });
    for (const problem of phrase.problems) problems.push({ start, problem });
  }
  problems.push(...lessonProblems(slices));
  return { uri, version, text, slices, definitions, phrases, problems };
}

function refused(document: Pick<Snapshot, 'uri' | 'version' | 'text'>, { start, ...facts }: { start: number; characters: number; limit: number; what: 'file' | 'part' }): Snapshot {
  const problem: Problem = { rule: 'file-too-long', severity: 'error', range: { start: 0, end: Math.min(1, document.text.length - start) }, facts, fixes: [] };
  return { ...document, slices: [], phrases: [], definitions: { changes: new Map(), cells: new Map() }, problems: [{ start, problem }] };
}

/**
 * Phrases by the slice they were read from. A slice is the same object as long as its text is unchanged (the parser re-uses it),
 * so a phrase is built anew only when its text changes, or what the definitions answered it.
 */
const built = new WeakMap<ParsedSlice, Built>();

function phraseOf(parsed: ParsedSlice, item: PhraseItem, definitions: Definitions): Phrase {
  const known = built.get(parsed);
  if (known !== undefined && stillAnswered(known.uses, definitions)) return known.phrase;
  const fresh = buildPhrase(parsed, item, definitions);
  built.set(parsed, fresh);
  return fresh.phrase;
}

const checked = new WeakMap<ParsedSlice, readonly Problem[]>();

/** What is wrong inside `changes` definitions, read once a slice. */
function definitionProblems(parsed: ParsedSlice, definitions: Definitions): readonly Problem[] {
  const known = checked.get(parsed);
  if (known !== undefined) return known;
  const items = parsed.item.kind === 'phrase' ? parsed.item.nested : [parsed.item];
  const context: BuildContext = {
    text: parsed.text, definitions, uses: noUses(), key: null, part: partByName('concert')!, problems: [],
  };
  for (const item of items) if (item.kind === 'changes') checkChanges(item.bars, context);
  checked.set(parsed, context.problems);
  return context.problems;
}

/** A file has at most one `lesson`. */
function lessonProblems(slices: readonly PlacedSlice[]): PlacedProblem[] {
  const lessons = slices.filter(({ parsed }) => parsed.item.kind === 'lesson');
  return lessons.slice(1).map(({ start, parsed }) => ({
    start,
    problem: { rule: 'second-lesson', severity: 'error', range: parsed.item.keyword.range, facts: {}, fixes: [] },
  }));
}
