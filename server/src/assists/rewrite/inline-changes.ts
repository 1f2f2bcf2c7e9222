import type { Assist } from '../assist';
import { definitionText } from '../writing/changes-text';
import { rowHere } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const inlineChanges: Assist = {
  id: 'inline-changes',
  kind: 'refactor.inline.changes',
  what: 'Writes named changes out where they are used.',
  offers(context) {
    const row = rowHere(context, 'over');
    const text = row?.changes == null ? null : definitionText(context.snapshot, row.changes.text);
    if (row?.changes == null || text === null) return [];
    return sameSound(context, [{ range: row.changes.range, text }], `Write the changes ${row.changes.text} out: ${text}`);
  },
};
