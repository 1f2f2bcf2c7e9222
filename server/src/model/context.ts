/** What the steps of building one phrase share while they run. */
import type { CellItem, ChangesItem, Fix, Problem, Range, RelatedPlace, Severity } from '../../../grammar/tree';
import type { Key, Part } from '../theory/types';
import type { Definitions } from './types';

/** Every definition the phrase asked for, and what it got: the phrase stays valid while these answers stay the same. */
export interface Uses {
  readonly changes: Map<string, ChangesItem | undefined>;
  readonly cells: Map<string, CellItem | undefined>;
}

export interface BuildContext {
  /** The slice's text, for fixes that rewrite what was written. */
  readonly text: string;
  readonly definitions: Definitions;
  readonly uses: Uses;
  readonly key: Key | null;
  readonly part: Part;
  readonly problems: Problem[];
}

interface Details {
  readonly facts?: Problem['facts'];
  readonly fixes?: readonly Fix[];
  readonly related?: readonly RelatedPlace[];
}

export function report(context: BuildContext, rule: string, severity: Severity, range: Range, details: Details = {}): void {
  context.problems.push({
    rule,
    severity,
    range,
    facts: details.facts ?? {},
    fixes: details.fixes ?? [],
    related: details.related ?? [],
  });
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
