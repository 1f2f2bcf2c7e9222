/** Writing a new definition into a file: where it stands, and what it may be called. */
import { lineEnd } from '../../../../grammar/lines';
import type { Snapshot } from '../../model/snapshot';
import { headOf } from './copies';

/** A new name after a pattern: `motif`, `motif2` … */
export function freshName(taken: ReadonlyMap<string, unknown>, stem: string): string {
  if (!taken.has(stem)) return stem;
  for (let i = 2; ; i += 1) if (!taken.has(`${stem}${i}`)) return `${stem}${i}`;
}

/** After the last definition, else after the lesson, else before the first phrase: an offset in the file, and the text to put there. */
export function definitionEdit({ text, slices }: Snapshot, definition: string): { readonly at: number; readonly text: string } {
  const last = slices.findLast(({ parsed }) => parsed.item.kind === 'changes' || parsed.item.kind === 'cell');
  const lesson = slices.findLast(({ parsed }) => parsed.item.kind === 'lesson');
  const after = last ?? lesson;
  if (after !== undefined) {
    const at = lineEnd(text, after.start + after.parsed.item.range.end);
    return { at, text: last === undefined ? `\n\n${definition}` : `\n${definition}` };
  }
  const first = slices.find(({ parsed }) => parsed.item.kind === 'phrase');
  return { at: headOf(text, first?.start ?? 0), text: `${definition}\n\n` };
}
