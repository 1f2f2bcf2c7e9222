/** An immutable picture of one version of a document: its slices, its definitions, and its phrases in exact time. */
import { parseSlice } from '../../../grammar/parser';
import { lastStart, resliceFile, sliceFile, type KnownSlice, type Recut, type TextEdited } from '../../../grammar/slices';
import type { ParsedSlice, PlacedSlice, Problem } from '../../../grammar/tree';
import { CONCERT } from '../theory/part';
import { buildPhrase } from './build';
import { noUses, stillAnswered, type BuildContext, type Uses } from './context';
import { collectDefinitions } from './definitions';
import { groupedBy } from './grouped';
import { checkChanges } from './harmony';
import type { Definitions, Phrase, PlacedProblem } from './types';

export interface PlacedPhrase {
  /** UTF-16 offset of the phrase's slice in the file: add it to every range of the phrase. */
  readonly start: number;
  readonly phrase: Phrase;
}

/** What was made of one slice, and holds as long as its text and the answers of the definitions do: the same object from version to version. */
export interface Part {
  readonly parsed: ParsedSlice;
  /** Null where the slice is no phrase. */
  readonly phrase: Phrase | null;
  /** Syntax and model problems of the slice (not yet those of the analysis); ranges count from its start. */
  readonly problems: readonly Problem[];
}

export interface Snapshot {
  readonly uri: string;
  readonly version: number;
  readonly text: string;
  readonly slices: readonly PlacedSlice[];
  /** One a slice, in the same order. */
  readonly parts: readonly Part[];
  readonly definitions: Definitions;
  readonly phrases: readonly PlacedPhrase[];
  /** Problems that no slice has by itself: second definitions of a name, second lessons, a file that is too long. */
  readonly between: readonly PlacedProblem[];
  /** Syntax and model problems (not yet those of the analysis), gathered when they are asked for. */
  readonly problems: readonly PlacedProblem[];
  /** The same object in all versions that were made of one another: what is kept from one to the next is kept by it. */
  readonly lineage: object;
}

/**
 * The phrase whose slice holds an offset; null where that slice is no phrase. Where one slice ends and the next begins, it is the next.
 * Hovers, actions, scores and walk-throughs all ask here, so that they speak of one phrase.
 */
export function phraseAt({ slices, phrases }: Pick<Snapshot, 'slices' | 'phrases'>, offset: number): PlacedPhrase | null {
  if (slices.length === 0 || phrases.length === 0) return null;
  const { start } = slices[lastStart(slices.length, (index) => slices[index]!.start, offset)]!;
  const phrase = phrases[lastStart(phrases.length, (index) => phrases[index]!.start, start)]!;
  return phrase.start === start ? phrase : null;
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

/**
 * Opens a version of a document. Of the version before, all is taken over that the edit did not touch; `edited` says where that is, and is found by
 * comparing the texts where it is not given.
 */
export function openSnapshot(uri: string, version: number, text: string, previous?: Snapshot, edited?: TextEdited): Snapshot {
  const lineage = previous?.lineage ?? {};
  const document = { uri, version, text, lineage };
  if (text.length > LONGEST_FILE) return refused(document, { start: 0, characters: text.length, limit: LONGEST_FILE, what: 'file' });
  const before = previous === undefined || previous.slices.length === 0 ? null : previous;
  const recut =
    before === null ? { from: 0, to: 0, fresh: sliceFile(text) } : cutAgain(before, text, edited ?? differenceOf(before.text, text));
  const long = recut.fresh.find((slice) => slice.text.length > LONGEST_ITEM);
  if (long !== undefined) return refused(document, { start: long.start, characters: long.text.length, limit: LONGEST_ITEM, what: 'part' });
  const slices = placedSlices(before, recut, text.length);
  const { definitions, between } = commonOf(before, recut, slices);
  const parts = partsOf(before, recut, slices, definitions);
  return snapshotWith({ ...document, slices, parts, definitions, between });
}

/** What is gathered of parts is gathered when it is asked for: the findings of a version need neither phrases nor problems. */
function snapshotWith(made: Omit<Snapshot, 'phrases' | 'problems'>): Snapshot {
  const { slices, parts, between } = made;
  let phrases: readonly PlacedPhrase[] | null = null;
  return {
    ...made,
    get phrases() {
      phrases ??= placedPhrases(slices, parts);
      return phrases;
    },
    get problems() {
      return [
        ...between,
        ...parts.flatMap(({ problems }, i) => problems.map((problem): PlacedProblem => ({ start: slices[i]!.start, problem }))),
      ];
    },
  };
}

/** The same version as it is read while somebody writes at some offsets: the end of a line there is not whole yet. All else is the same, and the same objects. */
export function whileWritten(snapshot: Snapshot, offsets: readonly number[]): Snapshot {
  const { uri, version, text, lineage, slices, parts, definitions, between } = snapshot;
  const bySlice = groupedBy(slices.length === 0 ? [] : offsets, (offset) => [lastStart(slices.length, (i) => slices[i]!.start, offset)]);
  let written = parts;
  for (const [index, here] of bySlice) {
    const { parsed } = parts[index]!;
    if (parsed.item.kind !== 'phrase') continue;
    const { phrase } = buildPhrase(
      parsed,
      parsed.item,
      definitions,
      here.map((offset) => offset - slices[index]!.start),
    );
    if (phrase.writing.length > 0)
      written = written.with(index, { ...parts[index]!, phrase, problems: problemsIn(parsed, phrase, definitions) });
  }
  return written === parts ? snapshot : snapshotWith({ uri, version, text, lineage, slices, parts: written, definitions, between });
}

function refused(
  document: Pick<Snapshot, 'uri' | 'version' | 'text' | 'lineage'>,
  { start, ...facts }: { start: number; characters: number; limit: number; what: 'file' | 'part' },
): Snapshot {
  const problem: Problem = {
    rule: 'file-too-long',
    severity: 'error',
    range: { start: 0, end: Math.min(1, document.text.length - start) },
    facts,
    fixes: [],
  };
  const between = [{ start, problem }];
  return {
    ...document,
    slices: [],
    parts: [],
    phrases: [],
    definitions: { changes: new Map(), cells: new Map() },
    between,
    problems: between,
  };
}

// ── From version to version ────────────────────────────────────────────────────────────────────────────────────────────────

function cutAgain({ slices }: Snapshot, text: string, edited: TextEdited): Recut {
  const known = (index: number): KnownSlice => {
    const { start, parsed } = slices[index]!;
    return { start, text: parsed.text, keyword: parsed.item.kind === 'stray' ? '' : parsed.item.kind };
  };
  return resliceFile(text, slices.length, known, edited);
}

/** The smallest stretch outside which two texts are the same. */
function differenceOf(before: string, after: string): TextEdited {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before.charCodeAt(start) === after.charCodeAt(start)) start += 1;
  let tail = 0;
  while (tail < most - start && before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)) tail += 1;
  return { start, end: before.length - tail, length: after.length - tail - start };
}

/** Slices whose text is that of one that was replaced keep their tree; those after the replaced ones move. */
function placedSlices(before: Snapshot | null, { from, to, fresh }: Recut, length: number): readonly PlacedSlice[] {
  const old = before?.slices ?? [];
  const known = new Map(old.slice(from, to).map(({ parsed }) => [parsed.text, parsed]));
  const cut = fresh.map(({ start, text }): PlacedSlice => {
    const parsed = known.get(text) ?? parseSlice(text);
    known.set(text, parsed);
    return { start, parsed };
  });
  const by = before === null ? 0 : length - before.text.length;
  const after = old.slice(to);
  return old.slice(0, from).concat(cut, by === 0 ? after : after.map(({ start, parsed }) => ({ start: start + by, parsed })));
}

/** What the slices have in common: the definitions, and problems among them. The same object of definitions as long as none changes. */
function commonOf(
  before: Snapshot | null,
  { from, to, fresh }: Recut,
  slices: readonly PlacedSlice[],
): Pick<Snapshot, 'definitions' | 'between'> {
  if (before !== null && before.between.length === 0) {
    const old = before.slices.slice(from, to).filter(isCommon);
    const now = slices.slice(from, from + fresh.length).filter(isCommon);
    if (old.length === now.length && old.every(({ parsed }, i) => parsed === now[i]!.parsed)) return before;
  }
  const { definitions, problems } = collectDefinitions(slices);
  const same =
    before !== null &&
    sameEntries(before.definitions.changes, definitions.changes) &&
    sameEntries(before.definitions.cells, definitions.cells);
  return { definitions: same ? before.definitions : definitions, between: [...problems, ...lessonProblems(slices)] };
}

function isCommon({ parsed: { item } }: PlacedSlice): boolean {
  return item.kind === 'lesson' || item.kind === 'changes' || item.kind === 'cell' || (item.kind === 'phrase' && item.nested.length > 0);
}

/** In the same order: a message lists the first names. */
function sameEntries<T>(a: ReadonlyMap<string, T>, b: ReadonlyMap<string, T>): boolean {
  if (a.size !== b.size) return false;
  const others = b.entries();
  for (const [name, item] of a) {
    const [otherName, otherItem] = others.next().value!;
    if (name !== otherName || item !== otherItem) return false;
  }
  return true;
}

function partsOf(
  before: Snapshot | null,
  { from, to, fresh }: Recut,
  slices: readonly PlacedSlice[],
  definitions: Definitions,
): readonly Part[] {
  if (before === null || before.definitions !== definitions) return slices.map(({ parsed }) => partOf(parsed, definitions));
  const made = slices.slice(from, from + fresh.length).map(({ parsed }) => partOf(parsed, definitions));
  return before.parts.slice(0, from).concat(made, before.parts.slice(to));
}

function placedPhrases(slices: readonly PlacedSlice[], parts: readonly Part[]): readonly PlacedPhrase[] {
  const phrases: PlacedPhrase[] = [];
  parts.forEach(({ phrase }, i) => {
    if (phrase !== null) phrases.push({ start: slices[i]!.start, phrase });
  });
  return phrases;
}

/**
 * What was made of slices. A slice is the same object as long as its text is unchanged, so that a phrase is built anew only when its text changes,
 * or what the definitions answered it.
 */
const built = new WeakMap<ParsedSlice, { readonly part: Part; readonly uses: Uses | null }>();

function partOf(parsed: ParsedSlice, definitions: Definitions): Part {
  const known = built.get(parsed);
  if (known !== undefined && (known.uses === null || stillAnswered(known.uses, definitions))) return known.part;
  const { phrase, uses } = parsed.item.kind === 'phrase' ? buildPhrase(parsed, parsed.item, definitions) : { phrase: null, uses: null };
  const part: Part = { parsed, phrase, problems: problemsIn(parsed, phrase, definitions) };
  built.set(parsed, { part, uses: uses === null || isUnasked(uses) ? null : uses });
  return part;
}

function problemsIn(parsed: ParsedSlice, phrase: Phrase | null, definitions: Definitions): readonly Problem[] {
  return [...parsed.problems, ...definitionProblems(parsed, definitions), ...(phrase?.problems ?? [])];
}

function isUnasked({ changes, cells, listed }: Uses): boolean {
  return changes.size === 0 && cells.size === 0 && listed.size === 0;
}

const checked = new WeakMap<ParsedSlice, readonly Problem[]>();

/** What is wrong inside `changes` definitions, read once a slice. */
function definitionProblems(parsed: ParsedSlice, definitions: Definitions): readonly Problem[] {
  const items = (parsed.item.kind === 'phrase' ? parsed.item.nested : [parsed.item]).filter((item) => item.kind === 'changes');
  if (items.length === 0) return [];
  const known = checked.get(parsed);
  if (known !== undefined) return known;
  const context: BuildContext = { text: parsed.text, definitions, uses: noUses(), key: null, part: CONCERT, problems: [], ends: [] };
  for (const item of items) checkChanges(item.bars, context);
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
