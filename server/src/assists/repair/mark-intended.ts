import { dressed } from '../../../../grammar/printer';
import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';

export const markIntended: Assist = {
  id: 'mark-intended',
  kind: 'quickfix',
  what: 'Marks a flagged note as intended (`!`), so that it is never flagged.',
  offers({ reading, note: index }) {
    if (index === null) return [];
    const level = reading.notes[index]!.verdict?.level;
    const note = reading.phrase.notes[index]!;
    if ((level !== 'warning' && level !== 'information') || note.cell !== null) return [];
    const head = reading.phrase.text.slice(note.node.head.range.start, note.node.head.range.end);
    const text = dressed({ ...note.node, intended: true }, head);
    return [
      {
        title: `Mark ${formatNoteName(note.pitch)} as intended: ${text}`,
        edits: [{ range: note.range, text }],
        repairs: level === 'warning' ? 'clash' : 'rub',
        preferred: false,
      },
    ];
  },
};
