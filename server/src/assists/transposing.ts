/** Moving a phrase's text to another key: pitches, chord symbols and the key move; degrees and numerals stay what they are. */
import type { PhraseItem, TextEdit } from '../../../grammar/tree';
import { transposeName, transposePitch, type Shift } from '../theory/interval';
import { transposeSymbol } from '../theory/transposition';
import { isRoman } from '../theory/roman';
import { formatNoteName, formatPitch, writable } from '../theory/pitch';
import type { Pitch } from '../theory/types';

/**
 * The edits that move a phrase by a shift; null where the tonic or a chord's root would need two accidentals (choose the enharmonic shift).
 * `text` is the slice's. Chords of a `changes` definition are not moved, so a phrase that uses one cannot be.
 */
export function transpositionEdits(text: string, item: PhraseItem, shift: Shift): TextEdit[] | null {
  const edits: TextEdit[] = [];
  let possible = true;
  for (const row of item.rows) {
    if (row.kind === 'key' && row.tonic !== null) {
      const tonic = transposeName(row.tonic, shift);
      if (Math.abs(tonic.alter) > 1) return null;
      edits.push({ range: row.tonic.range, text: formatNoteName(tonic) });
    }
    if (row.kind === 'over' && row.changes !== null) return null;
    if (row.kind === 'over') {
      for (const share of row.bars.flatMap((bar) => bar.shares)) {
        if (share.kind !== 'chord' || isRoman(share.symbol.text)) continue;
        const moved = transposeSymbol(share.symbol.text, shift);
        if (moved === null || /(?:^|\/)[A-G](?:##|bb)/.test(moved)) possible = false;
        else edits.push({ range: share.symbol.range, text: moved });
      }
    }
    if (row.kind === 'line') edits.push(...lineEdits(text, row.bars.flatMap((bar) => bar.groups), shift));
  }
  return possible ? edits : null;
}

type Groups = readonly import('../../../grammar/tree').Group[];

function lineEdits(text: string, groups: Groups, shift: Shift): TextEdit[] {
  return groups.flatMap((group) =>
    group.kind === 'cell' ? [] : group.slots.flatMap((slot): TextEdit[] => {
      if (slot.kind !== 'note' || slot.head.kind !== 'pitch') return [];
      const { letter, alter, octave, range } = slot.head;
      const pitch: Pitch = writable(transposePitch({ letter, alter, octave: octave ?? 4 }, shift));
      const moved = octave === null ? formatNoteName(pitch) : formatPitch(pitch);
      return text.slice(range.start, range.end) === moved ? [] : [{ range, text: moved }];
    }),
  );
}
