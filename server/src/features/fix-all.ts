/** All safe fixes of a document, to a fixed point; what is left is named with the reason. */
import type { TheoryOptions } from '../analysis/types';
import { openSnapshot } from '../model/snapshot';
import { applyPlaced, findingsOf, type Finding, type PlacedEdit } from '../rules/findings';

export interface FixedDocument {
  readonly text: string;
  /** The titles of the fixes that were applied, in order. */
  readonly applied: readonly { readonly rule: string; readonly title: string }[];
  readonly left: readonly Finding[];
}

/** Each round mends what does not overlap; a fix may uncover another. No document needs this many. */
const MOST_ROUNDS = 20;

/** Fixing the result again changes nothing. */
export function fixAll(text: string, options: TheoryOptions): FixedDocument {
  const applied: { rule: string; title: string }[] = [];
  let current = text;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const findings = findingsOf(openSnapshot('', round, current), options);
    const { edits, fixed } = safeEdits(findings);
    if (edits.length === 0) return { text: current, applied, left: findings };
    applied.push(...fixed);
    current = applyPlaced(current, edits);
  }
  return { text: current, applied, left: findingsOf(openSnapshot('', MOST_ROUNDS, current), options) };
}

function safeEdits(findings: readonly Finding[]): { edits: PlacedEdit[]; fixed: { rule: string; title: string }[] } {
  const edits: PlacedEdit[] = [];
  const fixed: { rule: string; title: string }[] = [];
  for (const { rule, fixes } of findings) {
    const fix = fixes.find(({ safe }) => safe);
    if (fix === undefined || fix.edits.some((edit) => edits.some((other) => overlap(edit, other)))) continue;
    edits.push(...fix.edits);
    fixed.push({ rule, title: fix.title });
  }
  return { edits, fixed };
}

function overlap(a: PlacedEdit, b: PlacedEdit): boolean {
  return a.start <= b.end && b.start <= a.end;
}
