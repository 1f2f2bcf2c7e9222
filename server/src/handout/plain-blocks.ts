/** Blocks of plain words. */
import type { Block } from './types';

/** A paragraph in which nothing is emphasized. */
export function line(text: string): Block {
  return { kind: 'prose', words: [{ text, isStrong: false, isEmphasized: false }] };
}

/** What stands under a phrase's title where no system does. */
export function withoutPicture(why: string): Block[] {
  return [{ kind: 'systems', systems: [] }, line(why)];
}
