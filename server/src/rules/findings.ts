/** All findings of a document, rendered: the one list that the editor and the command line show. */
import type { AboutNote, Problem, RelatedPlace, Severity, TextEdit } from '../../../grammar/tree';
import { readPhrase } from '../analysis/read';
import type { Reading, TheoryOptions } from '../analysis/types';
import { groupedBy } from '../model/grouped';
import type { Snapshot } from '../model/snapshot';
import type { PlacedProblem } from '../model/types';
import { ANALYSIS_RULES, ruleById } from './registry';
import { checkGuarded, failuresOnce } from './rule-failed';

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

/** Findings in the order of the text. */
export function findingsOf(snapshot: Snapshot, options: TheoryOptions): readonly Finding[] {
  const musical = snapshot.phrases.flatMap(({ start, phrase }) =>
    problemsOf(readPhrase(phrase, options)).map((problem): PlacedProblem => ({ start, problem })),
  );
  return failuresOnce([...snapshot.problems, ...musical])
    .map(({ start, problem }) => render(problem, start, snapshot))
    .sort((a, b) => a.start - b.start || a.end - b.end || a.rule.localeCompare(b.rule));
}

const memory = new WeakMap<Reading, readonly Problem[]>();

/** What the rules of the analysis find in a phrase; each phrase is checked once. A rule that throws is a finding, and takes no other away. */
export function problemsOf(reading: Reading): readonly Problem[] {
  const known = memory.get(reading);
  if (known !== undefined) return known;
  const problems = ANALYSIS_RULES.flatMap((rule) => checkGuarded(rule, reading));
  memory.set(reading, problems);
  return problems;
}

const byNote = new WeakMap<Reading, ReadonlyMap<number, readonly Problem[]>>();

/** What the rules of the analysis find about one note of a phrase, in the order of the rules. */
export function problemsAbout(reading: Reading, note: number): readonly Problem[] {
  const known = byNote.get(reading) ?? groupedBy(problemsOf(reading), ({ about }) => (about === undefined ? [] : [about.note]));
  byNote.set(reading, known);
  return known.get(note) ?? [];
}

function render(problem: Problem, start: number, snapshot: Snapshot): Finding {
  const { range } = problem;
  return {
    rule: problem.rule,
    severity: problem.severity,
    start: start + range.start,
    end: start + range.end,
    message: ruleById(problem.rule)?.message(problem.facts) ?? problem.rule,
    about: problem.about ?? null,
    related: (problem.related ?? []).flatMap((place) => placeRelated(place, start, snapshot)),
    fixes: problem.fixes.map((fix) => ({
      title: fix.title,
      safe: fix.safe,
      preferred: fix.preferred ?? false,
      edits: fix.edits.map((edit) => placeEdit(edit, start)),
    })),
    link: `#rule-${problem.rule}`,
  };
}

/** A text after edits, in whatever order they come. */
export function applyPlaced(text: string, edits: readonly PlacedEdit[]): string {
  return [...edits].sort((a, b) => b.start - a.start || b.end - a.end).reduce((result, { start, end, text: fresh }) => result.slice(0, start) + fresh + result.slice(end), text);
}

function placeEdit({ range, text }: TextEdit, start: number): PlacedEdit {
  return { start: start + range.start, end: start + range.end, text };
}

function placeRelated(place: RelatedPlace, start: number, snapshot: Snapshot): { start: number; end: number; text: string }[] {
  const base = place.definition === undefined ? start : definitionStart(place.definition, snapshot);
  return base === null ? [] : [{ start: base + place.range.start, end: base + place.range.end, text: place.text }];
}

function definitionStart({ kind, name }: NonNullable<RelatedPlace['definition']>, { slices, definitions }: Snapshot): number | null {
  const item = kind === 'changes' ? definitions.changes.get(name) : definitions.cells.get(name);
  if (item === undefined) return null;
  const slice = slices.find(({ parsed }) => parsed.item === item || (parsed.item.kind === 'phrase' && parsed.item.nested.includes(item)));
  return slice?.start ?? null;
}
