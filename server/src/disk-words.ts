/** Why a disk would not, in words without a full stop; the editor's side uses them too. */

/** By the codes of the system (POSIX, errno.h). */
const WORDS: ReadonlyMap<string, string> = new Map([
  ['ENOENT', 'there is no such file'],
  ['EACCES', 'it may not be opened or written (permission denied)'],
  ['EPERM', 'it may not be opened or written (permission denied)'],
  ['EROFS', 'it stands on a disk that cannot be written'],
  ['ENOSPC', 'there is no room on the disk'],
  ['EDQUOT', 'there is no room on the disk'],
  ['ENAMETOOLONG', 'its name is too long for this disk'],
  ['ENOTDIR', 'a part of its path is a file, not a folder'],
  ['EISDIR', 'this is a folder'],
  ['ELOOP', 'it is a link that leads round in a circle'],
  ['EMFILE', 'too many files are open; close some programs and try again'],
  ['ENFILE', 'too many files are open; close some programs and try again'],
  ['EIO', 'the disk could not be read or written (a fault of the disk)'],
]);

/** The words for a code such as `ENOSPC`; null for one that is not known here. */
export function wordsOfCode(code: string): string | null {
  return WORDS.get(code) ?? null;
}
