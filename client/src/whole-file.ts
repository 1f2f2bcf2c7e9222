/** A file written whole or not at all: what stands in its place is not lost where the disk is full, or goes away half way. */

import { wordsOfCode } from '../../server/src/disk-words';

/** What is needed of a disk; the editor's file system is one. */
export interface Disk<Place> {
  writeFile(place: Place, bytes: Uint8Array): PromiseLike<void>;
  rename(from: Place, to: Place, options: { readonly overwrite: boolean }): PromiseLike<void>;
  delete(place: Place): PromiseLike<void>;
}

export interface Putting<Place> {
  readonly target: Place;
  /** Where it is written first: in the same folder, a name that nobody else has. */
  readonly beside: Place;
  /** Whether a file that stands there is replaced; where it is not, the disk's error is thrown. */
  readonly overwrite: boolean;
}

/** Writes beside the place first, then into it. Throws the disk's error; then nothing is left beside, and the place is as it was. */
export async function putWhole<Place>(disk: Disk<Place>, { target, beside, overwrite }: Putting<Place>, bytes: Uint8Array): Promise<void> {
  try {
    await disk.writeFile(beside, bytes);
    await disk.rename(beside, target, { overwrite });
  } catch (error) {
    // It may not have got as far as being there.
    await Promise.resolve(disk.delete(beside)).catch(() => undefined);
    throw error;
  }
}

/** A name beside another: hidden, and of this moment alone, so that two windows do not write into one file. */
export function nameBeside(name: string, unique: string): string {
  return `.${name.slice(0, 100)}.${unique}.part`;
}

/** What the editor says in place of the system's codes. */
const CODES_OF_EDITOR: ReadonlyMap<string, string> = new Map([
  ['NoPermissions', 'EACCES'],
  ['FileNotFound', 'ENOENT'],
]);

/** Why a disk would not, in words, without a full stop. The editor may hide the system's code in its message. */
export function diskWords(error: unknown): string {
  const { code = '', message = String(error) } = (error ?? {}) as { readonly code?: string; readonly message?: string };
  const codes = (`${code} ${message}`.match(/\b(?:E[A-Z]{2,}|NoPermissions|FileNotFound)\b/g) ?? []).map(
    (one) => CODES_OF_EDITOR.get(one) ?? one,
  );
  // What was chosen in the editor was there.
  if (codes.includes('ENOENT')) return 'it, or its folder, is no longer there';
  return codes.map(wordsOfCode).find((words) => words !== null) ?? message.replace(/\.\s*$/, '');
}
