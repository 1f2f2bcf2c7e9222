import { lineEnd } from '../../../../grammar/lines';
import type { Assist } from '../assist';
import { barsTold } from '../writing/bars-told';
import { isAtTitle, laidOut, rowsLaidOut } from '../writing/phrase-title';

export const writeWalkthrough: Assist = {
  id: 'write-walkthrough',
  kind: 'refactor.rewrite.phrase',
  what: 'Writes the walk-through of a phrase as `say` texts, a bar a paragraph; what is said against a note stays out.',
  offers(context) {
    const { phrase } = context.reading;
    if (!isAtTitle(context) || phrase.notes.length === 0) return [];
    const said = new Set(phrase.says);
    // A blank line parts the paragraphs.
    const told = barsTold(context.reading).filter((bar) => !said.has(bar));
    const rows = told.map((bar) => `\n\n  say     "${bar.replaceAll('"', '\\"')}"`);
    if (rows.length === 0) return [];
    const end = phrase.item.rows[phrase.item.rows.length - 1]?.range.end ?? phrase.item.keyword.range.end;
    const at = lineEnd(phrase.text, end);
    return laidOut(context, [{ range: { start: at, end: at }, text: rowsLaidOut(rows.join('')) }], 'Write the walk-through as say texts');
  },
};
