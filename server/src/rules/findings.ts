/** All findings of a document, rendered: the one list that the editor and the command line show. */
import { flatMap } from '../../../grammar/flat-map';
import type { AboutNote, Problem, RelatedPlace, Severity } from '../../../grammar/tree';
import { matchesInPieces } from '../analysis/devices/read';
import { ofReading } from '../analysis/of-reading';
import { readPhrase, sameOptions } from '../analysis/read';
import type { Reading, TheoryOptions } from '../analysis/types';
import { guarded } from '../model/faults';
import { groupedBy } from '../model/grouped';
import { perPart } from '../model/per-part';
import type { Snapshot } from '../model/snapshot';
import type { Phrase } from '../model/types';
import { isEarly } from './early';
import { ANALYSIS_RULES, ruleById } from './registry';
import { checkGuarded, messageOf, ruleFailed } from './rule-failed';

/** A finding in words. All offsets are UTF-16 from the start of the file, ends exclusive. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly start: number;
  readonly end: number;
  readonly message: string;
  /** The note of its phrase that it is about, and which of its soundings; null where it is about none. */
  readonly about: AboutNote | null;
  readonly related: readonly { readonly start: number; readonly end: number; readonly text: string }[];
  readonly fixes: readonly PlacedFix[];
  /** It may go with what is still being written: it is early to tell. */
  readonly early: boolean;
  /** The rule's place in the manual, as a fragment: `#rule-clash`. */
  readonly link: string;
}

export interface PlacedFix {
  readonly title: string;
  readonly safe: boolean;
  readonly preferred: boolean;
  readonly edits: readonly PlacedEdit[];
}

export interface PlacedEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const placedFindings = new WeakMap<Snapshot, { readonly options: TheoryOptions; readonly findings: readonly Finding[] }>();

/** Findings in the order of the text. Each phrase's are rendered once; what changes from version to version is their place, for all that ask of one version the same. */
export function findingsOf(snapshot: Snapshot, options: TheoryOptions): readonly Finding[] {
  const known = placedFindings.get(snapshot);
  if (known !== undefined && sameOptions(known.options, options)) return known.findings;
  const findings = placeFindings(snapshot, options);
  placedFindings.set(snapshot, { options, findings });
  return findings;
}

function placeFindings(snapshot: Snapshot, options: TheoryOptions): readonly Finding[] {
  const rendered = renderedOf(snapshot, options);
  const placed: Finding[] = [];
  const told = new Set<string>();
  for (const { start, problem } of snapshot.between) placed.push(...placeAll([render(problem, false)], start, snapshot, told));
  rendered.forEach((own, i) => {
    if (own.length > 0) placed.push(...placeAll(own, snapshot.slices[i]!.start, snapshot, told));
  });
  return placed.sort(inOrder);
}

function inOrder(a: Pick<Finding, 'start' | 'end' | 'rule'>, b: Pick<Finding, 'start' | 'end' | 'rule'>): number {
  return a.start - b.start || a.end - b.end || a.rule.localeCompare(b.rule);
}

/** The findings of one slice, in the order of the text. */
export interface PartFindings {
  /** The same object in all versions in which they are the same, counted from the start of the slice. */
  readonly kept: object;
  /** UTF-16 offset of the slice in the file. */
  readonly start: number;
  /** Whether they name places in other slices. */
  readonly reachesOut: boolean;
  /** They, placed in the file. */
  place(): readonly Finding[];
}

/**
 * The same findings slice by slice, of those that have some: for who keeps what was made of them from version to version. Null where they are not those
 * of the slices one after the other: what slices have in common may stand before, and a rule that failed is told once a file.
 */
export function findingsBySlice(snapshot: Snapshot, options: TheoryOptions): readonly PartFindings[] | null {
  const { slices, between } = snapshot;
  if (between.length > 0) return null;
  const found: PartFindings[] = [];
  const rendered = renderedOf(snapshot, options);
  for (let i = 0; i < rendered.length; i += 1) {
    const own = rendered[i]!;
    if (own.length === 0) continue;
    if (own.some(({ failed }) => failed !== null)) return null;
    const { start } = slices[i]!;
    found.push({
      kept: own,
      start,
      reachesOut: own.some(({ elsewhere }) => elsewhere.length > 0),
      place: () => placeAll(own, start, snapshot, new Set()),
    });
  }
  return found;
}

/** A phrase with more notes is read in pieces of its own. */
const LONG = 64;

/** Reads and checks all phrases that are not yet, one between every two yields: a file that has just been opened has many. */
export function* readAll(snapshot: Snapshot, options: TheoryOptions): Generator<void, void, void> {
  for (const { phrase } of renderedOf.missing(snapshot, options)) {
    if (phrase === null) continue;
    if (phrase.notes.length > LONG) {
      const reading = guarded('the reading of a phrase', null, () => readPhrase(phrase, options));
      yield;
      if (reading !== null) yield* matchesInPieces(reading);
    }
    readGuarded(phrase, options);
    yield;
  }
}

/** A finding whose offsets count from the start of its slice, and what is needed to place it. */
interface Rendered {
  readonly finding: Finding;
  /** Related places in definitions elsewhere; they stand after those of `finding`. */
  readonly elsewhere: readonly RelatedPlace[];
  /** The rule that broke off, where that is what it tells; told once a file. */
  readonly failed: string | null;
}

const NONE: readonly Rendered[] = [];

const renderedOf = perPart<readonly Rendered[], TheoryOptions>(({ phrase, problems }, options) => {
  const musical = phrase === null ? [] : readGuarded(phrase, options);
  return problems.length + musical.length === 0
    ? NONE
    : [...problems, ...musical]
        .map((problem) => render(problem, phrase !== null && isEarly(problem, phrase, options)))
        .sort((a, b) => inOrder(a.finding, b.finding));
}, sameOptions);

/** A phrase that cannot be read at all takes no other's findings away, nor its own of the grammar. */
function readGuarded(phrase: Phrase, options: TheoryOptions): readonly Problem[] {
  return guarded('the reading of a phrase', [], () => problemsOf(readPhrase(phrase, options)));
}

/** What the rules of the analysis find in a phrase; each phrase is checked once. A rule that throws is a finding, and takes no other away. */
export const problemsOf = ofReading((reading): readonly Problem[] => flatMap(ANALYSIS_RULES, (rule) => checkGuarded(rule, reading)));

const byNote = ofReading(
  (reading): ReadonlyMap<number, readonly Problem[]> =>
    groupedBy(problemsOf(reading), ({ about }) => (about === undefined ? [] : [about.note])),
);

/** What the rules of the analysis find about one note of a phrase, in the order of the rules. */
export function problemsAbout(reading: Reading, note: number): readonly Problem[] {
  return byNote(reading).get(note) ?? [];
}

function render(problem: Problem, early: boolean): Rendered {
  const { range } = problem;
  const related = problem.related ?? [];
  const finding: Finding = {
    rule: problem.rule,
    severity: problem.severity,
    start: range.start,
    end: range.end,
    message: messageOf(problem, ruleById(problem.rule)),
    about: problem.about ?? null,
    early,
    related: related
      .filter(({ definition }) => definition === undefined)
      .map((place) => ({ start: place.range.start, end: place.range.end, text: place.text })),
    fixes: problem.fixes.map((fix) => ({
      title: fix.title,
      safe: fix.safe,
      preferred: fix.preferred ?? false,
      edits: fix.edits.map(({ range: { start, end }, text }) => ({ start, end, text })),
    })),
    link: `#rule-${problem.rule}`,
  };
  return {
    finding,
    elsewhere: related.filter(({ definition }) => definition !== undefined),
    failed: problem.rule === ruleFailed.id ? String(problem.facts['failed']) : null,
  };
}

/** `told` are the rules whose failure is told already. */
function placeAll(rendered: readonly Rendered[], start: number, snapshot: Snapshot, told: Set<string>): Finding[] {
  const by = <T extends { readonly start: number; readonly end: number }>(place: T): T => ({
    ...place,
    start: place.start + start,
    end: place.end + start,
  });
  return rendered
    .filter(({ failed }) => failed === null || (!told.has(failed) && told.add(failed)))
    .map(({ finding, elsewhere }) => ({
      ...by(finding),
      related: [...finding.related.map(by), ...elsewhere.flatMap((place) => placeElsewhere(place, snapshot))],
      fixes: finding.fixes.map((fix) => ({ ...fix, edits: fix.edits.map(by) })),
    }));
}

/** A text after edits, in whatever order they come. */
export function applyPlaced(text: string, edits: readonly PlacedEdit[]): string {
  return [...edits]
    .sort((a, b) => b.start - a.start || b.end - a.end)
    .reduce((result, { start, end, text: fresh }) => result.slice(0, start) + fresh + result.slice(end), text);
}

function placeElsewhere({ range, text, definition }: RelatedPlace, snapshot: Snapshot): { start: number; end: number; text: string }[] {
  const base = definition === undefined ? null : definitionStart(definition, snapshot);
  return base === null ? [] : [{ start: base + range.start, end: base + range.end, text }];
}

function definitionStart({ kind, name }: NonNullable<RelatedPlace['definition']>, { slices, definitions }: Snapshot): number | null {
  const item = kind === 'changes' ? definitions.changes.get(name) : definitions.cells.get(name);
  if (item === undefined) return null;
  const slice = slices.find(({ parsed }) => parsed.item === item || (parsed.item.kind === 'phrase' && parsed.item.nested.includes(item)));
  return slice?.start ?? null;
}
