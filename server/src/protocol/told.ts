/** The findings of a document as the protocol has them, kept slice by slice, and whether they are other than those that a client was told. */
import type { Diagnostic } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { TheoryOptions } from '../analysis/types';
import type { Snapshot } from '../model/snapshot';
import { findingsBySlice, findingsOf, type PartFindings } from '../rules/findings';
import { toDiagnostic } from './convert';

/** The findings of each slice that has some, in the order of the text: the same list as before where they are what they were, in the same place. */
export type Told = readonly (readonly Diagnostic[])[];

export interface Telling {
  readonly document: TextDocument;
  readonly snapshot: Snapshot;
  readonly theory: TheoryOptions;
  /** The address of the page that explains the rules. */
  readonly manual: string;
}

/** What a client is told of a document. */
export function toldOf({ document, snapshot, theory, manual }: Telling): Told {
  const parts = findingsBySlice(snapshot, theory);
  return parts === null
    ? [findingsOf(snapshot, theory).map((finding) => toDiagnostic(document, finding, manual))]
    : parts.map((part) => ofSlice(part, document, manual));
}

/** Whether both are the same findings in the same places. */
export function isSameTold(a: Told, b: Told): boolean {
  return a.length === b.length && a.every((list, i) => list === b[i]);
}

/** What was last made of the findings of a slice, and in which line it began. */
const known = new WeakMap<object, { readonly line: number; readonly list: readonly Diagnostic[] }>();

function ofSlice({ kept, start, reachesOut, place }: PartFindings, document: TextDocument, manual: string): readonly Diagnostic[] {
  const { line } = document.positionAt(start);
  const before = known.get(kept);
  if (before !== undefined && !reachesOut && before.line === line) return before.list;
  const list =
    before !== undefined && !reachesOut
      ? before.list.map((one) => inLines(one, line - before.line))
      : place().map((finding) => toDiagnostic(document, finding, manual));
  // Places elsewhere may have moved alone, or not at all.
  if (before !== undefined && reachesOut && JSON.stringify(list) === JSON.stringify(before.list)) return before.list;
  known.set(kept, { line, list });
  return list;
}

/** A slice begins at the start of a line: what moves it moves all its places by whole lines. */
function inLines(one: Diagnostic, by: number): Diagnostic {
  const moved = ({ start, end }: Diagnostic['range']): Diagnostic['range'] => ({
    start: { line: start.line + by, character: start.character },
    end: { line: end.line + by, character: end.character },
  });
  return {
    ...one,
    range: moved(one.range),
    relatedInformation: (one.relatedInformation ?? []).map(({ location: { uri, range }, message }) => ({
      location: { uri, range: moved(range) },
      message,
    })),
  };
}
