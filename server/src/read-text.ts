/** Reading a file for the command line: its text, or a reason and a remedy. */
import { readFileSync, statSync } from 'node:fs';

/** The command could not do its work; the message is for the person at the terminal. */
export class CannotRun extends Error {}

/** Beyond this a file is no lesson, and reading it would only cost memory. */
const MOST_BYTES = 64 * 1024 * 1024;

/** The text of a UTF-8 file, a byte order mark kept. Throws `CannotRun` where there is no file, no text, or too much of it. */
export function readText(file: string): string {
  const bytes = readBytes(file);
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new CannotRun(`${file}: this is not UTF-8 (first at byte ${firstBadByte(bytes) + 1}). Save it as UTF-8 and try again; nothing was changed.`);
  }
}

function readBytes(file: string): Buffer {
  try {
    const found = statSync(file);
    if (found.isDirectory()) throw new CannotRun(`${file}: this is a folder. Name the files in it, such as ${file.replace(/[/\\]+$/, '')}/*.phrase.`);
    if (found.size > MOST_BYTES) throw new CannotRun(`${file}: this file has ${found.size} bytes; at most ${MOST_BYTES} are read. Split it into several lessons.`);
    return readFileSync(file);
  } catch (error) {
    if (error instanceof CannotRun) throw error;
    throw new CannotRun(`${file}: ${reasonOf(error)}.`);
  }
}

/** What the system says, in words. */
export function reasonOf(error: unknown): string {
  switch ((error as NodeJS.ErrnoException).code) {
    case 'ENOENT':
      return 'there is no such file';
    case 'EACCES':
    case 'EPERM':
      return 'it may not be opened or written (permission denied)';
    case 'EROFS':
      return 'it stands on a disk that cannot be written';
    default:
      return error instanceof Error ? error.message : String(error);
  }
}

/** How many bytes follow the first one of a character, and the least and the most the second may be (Unicode, table 3-7). */
function shapeOf(lead: number): readonly [number, number, number] | null {
  if (lead < 0x80) return [0, 0, 0];
  if (lead >= 0xc2 && lead <= 0xdf) return [1, 0x80, 0xbf];
  if (lead >= 0xe0 && lead <= 0xef) return [2, lead === 0xe0 ? 0xa0 : 0x80, lead === 0xed ? 0x9f : 0xbf];
  if (lead >= 0xf0 && lead <= 0xf4) return [3, lead === 0xf0 ? 0x90 : 0x80, lead === 0xf4 ? 0x8f : 0xbf];
  return null;
}

/** The index of the first byte at which no character of UTF-8 starts; the length where all is well. */
export function firstBadByte(bytes: Uint8Array): number {
  let at = 0;
  while (at < bytes.length) {
    const shape = shapeOf(bytes[at]!);
    if (shape === null) return at;
    const [more, least, most] = shape;
    for (let i = 1; i <= more; i += 1) {
      const byte = bytes[at + i] ?? 0;
      if (byte < (i === 1 ? least : 0x80) || byte > (i === 1 ? most : 0xbf)) return at;
    }
    at += more + 1;
  }
  return at;
}
