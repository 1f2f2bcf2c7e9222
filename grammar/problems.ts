/** How the grammar reports: problems are data (a rule and its facts); the wording is the server's. */
import type { IToken } from 'chevrotain';
import type { Fix, Problem, Range, Severity, Word } from './tree';

/** Everything the grammar can find wrong. Each has its text in `server/src/rules/syntax`. */
export const SYNTAX_IDS = [
  'unknown-keyword',
  'misplaced-row',
  'nested-definition',
  'unclosed-string',
  'unreadable-word',
  'loose-hyphen',
  'joined-figures',
  'compound-figure',
  'lower-case-pitch',
  'octave-and-direction',
  'weight-in-chords',
  'repeat-sign',
  'hidden-by-comment',
  'glued-comment',
  'bad-key',
  'key-without-mode',
  'bad-meter',
  'bad-tempo',
  'bad-part',
  'bad-level',
  'missing-name',
  'bad-name',
  'mark-on-cell',
  'missing-equals',
  'repeated-property',
  'missing-text',
  'extra-words',
  'cell-bar-line',
  'cell-in-cell',
  'bar-repeat-not-alone',
  'missing-weight',
  'missing-claim',
  'stray-bar-line',
] as const;
export type SyntaxId = (typeof SYNTAX_IDS)[number];

interface Details {
  readonly severity?: Severity;
  readonly facts?: Problem['facts'];
  readonly fixes?: readonly Fix[];
}

/** Gathers the problems of one slice. */
export class Problems {
  readonly found: Problem[] = [];

  report(rule: SyntaxId, range: Range, { severity = 'error', facts = {}, fixes = [] }: Details = {}): void {
    this.found.push({ rule, severity, range, facts, fixes, related: [] });
  }

  /** Puts others in place of the problems from an index on. */
  replace(from: number, others: (found: readonly Problem[]) => readonly Problem[]): void {
    this.found.push(...others(this.found.splice(from)));
  }
}

export function rangeOf(first: IToken, last: IToken = first): Range {
  return { start: first.startOffset, end: last.startOffset + last.image.length };
}

export function wordOf(tokens: readonly IToken[]): Word {
  const first = tokens[0]!;
  return {
    text: tokens.length === 1 ? first.image : tokens.map((token) => token.image).join(''),
    range: rangeOf(first, tokens[tokens.length - 1]),
  };
}

/** A fix that writes one text in place of another. */
export function writing(range: Range, text: string, safe = false, title = `Write ${text.trim()}`): Fix {
  return { title, safe, edits: [{ range, text }] };
}
