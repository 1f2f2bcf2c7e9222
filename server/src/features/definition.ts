/** From the use of a name to the place that defines it. */
import type { Snapshot } from '../model/snapshot';
import { nameAt, placesOfName, type NamePlace } from './names';

/** Where the name at an offset is defined; null where no name stands there, or nothing defines it. Of two the first counts. */
export function definitionAt(snapshot: Snapshot, offset: number): NamePlace | null {
  const name = nameAt(snapshot, offset);
  return name === null ? null : (placesOfName(snapshot, name).find(({ defines }) => defines) ?? null);
}
