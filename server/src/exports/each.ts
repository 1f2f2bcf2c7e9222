import type { Phrase } from '../model/types';

/** How the work of one phrase is done; null where it is left out of the file. `plainly`: what throws is thrown. */
export type Each = <T>(phrase: Phrase, write: () => T) => T | null;

export const plainly: Each = (_, write) => write();
