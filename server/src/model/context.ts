/** What the steps of building one phrase share while they run. */
import type { CellItem, ChangesItem, Fix, LineBar, OverRow, Problem, Range, RelatedPlace, Severity } from '../../../grammar/tree';
import type { Key, Part } from '../theory/types';
import type { LineEnd } from './line-end';
import type { Definitions } from './types';

/** Everything the phrase asked the definitions for, and what it got: the phrase stays valid while these answers stay the same. */
export interface Uses {
  readonly changes: Map<string, ChangesItem | undefined>;
  readonly cells: Map<string, CellItem | undefined>;
  /** The names listed where one was not found: such a phrase depends on names that it does not use. */
  readonly listed: Map<keyof Definitions, string>;
}

export function noUses(): Uses {
  return { changes: new Map(), cells: new Map(), listed: new Map() };
}

export interface BuildContext {
  /** The slice's text, for fixes that rewrite what was written. */
  readonly text: string;
  readonly definitions: Definitions;
  readonly uses: Uses;
  readonly key: Key | null;
  readonly part: Part;
  readonly problems: Problem[];
  /** The ends of lines at which somebody writes; a bar there that no bar line closes is growing: more may come. */
  readonly ends: readonly LineEnd[];
}

interface Details {
  readonly facts?: Problem['facts'];
  readonly fixes?: readonly Fix[];
  readonly related?: readonly RelatedPlace[];
  readonly about?: Problem['about'];
}

export function report(context: BuildContext, rule: string, severity: Severity, range: Range, details: Details = {}): void {
  context.problems.push({
    rule,
    severity,
    range,
    facts: details.facts ?? {},
    fixes: details.fixes ?? [],
    related: details.related ?? [],
    ...(details.about === undefined ? {} : { about: details.about }),
  });
}

/** Whether a bar is the last of a line at the end of which somebody writes, and open. */
export function isGrowing({ ends }: BuildContext, node: LineBar): boolean {
  return ends.some(({ growing }) => growing === node);
}

/** Whether a line below these chords is being written at its end: more of it may come. */
export function isWrittenBelow({ ends }: BuildContext, { range }: OverRow): boolean {
  return ends.some(({ writing }) => writing.over === range);
}

/** A fix that replaces one place. */
export function replacing(range: Range, text: string, title: string, safe = false): Fix {
  return { title, safe, edits: [{ range, text }] };
}

export function findChanges(context: BuildContext, name: string): ChangesItem | undefined {
  const found = context.definitions.changes.get(name);
  context.uses.changes.set(name, found);
  return found;
}

export function findCell(context: BuildContext, name: string): CellItem | undefined {
  const found = context.definitions.cells.get(name);
  context.uses.cells.set(name, found);
  return found;
}

/** A message lists no more names than a reader takes in at a glance. */
const LISTED = 5;

/** The first names of a kind, for the message that a name is not among them. */
export function listNames(context: BuildContext, kind: keyof Definitions): string {
  const listed = namesOf(context.definitions, kind);
  context.uses.listed.set(kind, listed);
  return listed;
}

function namesOf(definitions: Definitions, kind: keyof Definitions): string {
  const names: string[] = [];
  // Only the first are looked at: this is asked anew at every keystroke, in files of hundreds of definitions too.
  for (const name of definitions[kind].keys()) {
    if (names.length === LISTED) break;
    names.push(name);
  }
  return names.join(', ');
}

/** Whether the definitions still answer every question as they did. */
export function stillAnswered(uses: Uses, definitions: Definitions): boolean {
  for (const [name, item] of uses.changes) if (definitions.changes.get(name) !== item) return false;
  for (const [name, item] of uses.cells) if (definitions.cells.get(name) !== item) return false;
  for (const [kind, listed] of uses.listed) if (namesOf(definitions, kind) !== listed) return false;
  return true;
}
