/** Writing further phrases beside a phrase. */
import { lineAbove, lineStart } from '../../../../grammar/lines';
import type { TextEdit } from '../../../../grammar/tree';
import type { AssistContext } from '../assist';

/** Phrases after this one, each parted by an empty line. */
export function copiesAfter({ placed: { phrase } }: AssistContext, texts: readonly string[]): TextEdit[] {
  const end = phrase.text.trimEnd().length;
  return [{ range: { start: end, end }, text: texts.map((text) => `\n\n${text}`).join('') }];
}

/** Phrases before this one; comment lines right above it stay with it. */
export function copiesBefore({ placed, snapshot }: AssistContext, texts: readonly string[]): TextEdit[] {
  const at = headOf(snapshot.text, placed.start) - placed.start;
  return [{ range: { start: at, end: at }, text: texts.map((text) => `${text}\n\n`).join('') }];
}

/** Where a top-level item begins, the comment lines right above it counted in. */
export function headOf(text: string, start: number): number {
  let at = lineStart(text, start);
  while (at > 0) {
    const above = lineAbove(text, at);
    if (!text.slice(above, at).trim().startsWith('//')) break;
    at = above;
  }
  return at;
}
