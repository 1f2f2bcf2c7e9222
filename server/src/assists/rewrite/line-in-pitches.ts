import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { rowAtKeyword } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const lineInPitches: Assist = {
  id: 'line-in-pitches',
  kind: 'refactor.rewrite.line',
  what: 'Writes a line of degrees in pitches.',
  offers(context) {
    const row = rowAtKeyword(context, 'line');
    if (row === null) return [];
    const own = context.reading.phrase.notes.filter(
      (note) => note.cell === null && note.range.start >= row.range.start && note.range.end <= row.range.end,
    );
    const edits = own
      .filter((note) => note.node.head.kind === 'degree')
      .map((note) => ({ range: note.node.head.range, text: formatNoteName(note.pitch) }));
    return sameSound(context, edits, 'Write the line in pitches');
  },
};
