/** Every place where the name of changes or of a cell stands. */
import type { Snapshot } from '../model/snapshot';
import { nameAt, placesOfName, type NamePlace } from './names';

/** The definition and all uses of the name at an offset; empty where no name stands there. */
export function referencesAt(snapshot: Snapshot, offset: number): readonly NamePlace[] {
  const name = nameAt(snapshot, offset);
  return name === null ? [] : placesOfName(snapshot, name);
}
