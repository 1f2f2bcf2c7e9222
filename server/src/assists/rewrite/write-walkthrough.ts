import { barParagraphs, walkthrough } from '../../explain/walkthrough';
import type { Assist } from '../assist';
import { isAtTitle, laidOut, lineEndAfter } from '../writing/phrase-title';

export const writeWalkthrough: Assist = {
  id: 'write-walkthrough',
  kind: 'refactor.rewrite.phrase',
  what: 'Writes the walk-through of a phrase as `say` texts, a bar a paragraph.',
  offers(context) {
    const { phrase } = context.reading;
    if (!isAtTitle(context) || phrase.notes.length === 0) return [];
    const bars = barParagraphs(walkthrough(context.reading).telling);
    const said = new Set(phrase.says);
    // A string holds straight quotes; a blank line parts the paragraphs.
    const told = bars.map((bar) => bar.replace(/[“”]/g, '"')).filter((bar) => !said.has(bar));
    const rows = told.map((bar) => `\n\n  say     "${bar.replaceAll('"', '\\"')}"`);
    if (rows.length === 0) return [];
    const end = phrase.item.rows[phrase.item.rows.length - 1]?.range.end ?? phrase.item.keyword.range.end;
    const at = lineEndAfter(phrase.text, end);
    return laidOut(context, [{ range: { start: at, end: at }, text: rows.join('') }], 'Write the walk-through as say texts');
  },
};
