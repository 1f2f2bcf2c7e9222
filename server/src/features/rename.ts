/** Renaming changes and cells: the definition and all uses at once, or a reason why not. */
import { isName } from '../../../grammar/names';
import type { Snapshot } from '../model/snapshot';
import type { PlacedEdit } from '../rules/findings';
import { nameAt, placesOfName, type NamePlace } from './names';

/** What can be renamed at an offset; null where nothing can. */
export function renamableAt(snapshot: Snapshot, offset: number): NamePlace | null {
  return nameAt(snapshot, offset);
}

export type Renaming = { readonly edits: readonly PlacedEdit[] } | { readonly refused: string };

/** The edits that give the name at an offset another name, or a sentence that says why it cannot be. */
export function renameAt(snapshot: Snapshot, offset: number, wanted: string): Renaming {
  const old = nameAt(snapshot, offset);
  if (old === null) return { refused: 'Only the names of changes and cells can be renamed.' };
  if (wanted === old.name) return { edits: [] };
  if (!isName(wanted)) {
    return {
      refused: `“${wanted.slice(0, 40)}” cannot be a name: it starts with a small letter, holds letters, digits and _ only, and is no pitch, degree or numeral.`,
    };
  }
  if (placesOfName(snapshot, { kind: old.kind, name: wanted }).some(({ defines }) => defines)) {
    return { refused: `There ${old.kind === 'cell' ? 'is already a cell' : 'are already changes'} named “${wanted}”.` };
  }
  return { edits: placesOfName(snapshot, old).map(({ start, end }) => ({ start, end, text: wanted })) };
}
