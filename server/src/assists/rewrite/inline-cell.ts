import type { Assist } from '../assist';
import { cellText, writtenOut } from '../writing/cells';
import { keepsSound } from '../writing/same-sound';
import { contains } from '../writing/selection';
import { lineRows } from '../writing/whole-phrase';

export const inlineCell: Assist = {
  id: 'inline-cell',
  kind: 'refactor.inline.cell',
  what: 'Writes a cell’s groups out in place of its name.',
  offers(context) {
    const { phrase } = context.placed;
    const groups = lineRows(phrase).flatMap((row) => row.bars.flatMap((bar) => bar.groups));
    const use = groups.find((group) => group.kind === 'cell' && contains(group.range, context.selection.start));
    const edit = use === undefined ? null : writtenOut(context.snapshot, use);
    if (use?.kind !== 'cell' || edit === null || !keepsSound(context, [edit])) return [];
    return [
      {
        title: `Write the cell ${use.name.text} out: ${cellText(context.snapshot, use.name.text)!.text}`,
        edits: [edit],
        repairs: null,
        preferred: false,
      },
    ];
  },
};
