/** Reading files for the command line: their texts, or a reason and a remedy. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join, relative, sep } from 'node:path';
import { wordsOfCode } from './disk-words';

/** The command could not do its work; the message is for the person at the terminal. */
export class CannotRun extends Error {}

/** Beyond this a file is no lesson, and reading it would only cost memory. */
const MOST_BYTES = 64 * 1024 * 1024;

/** A file to read, or standard input, which is read already. */
export interface NamedSource {
  /** As it is named to people; `-` for standard input. */
  readonly file: string;
  /** What is made of it is called after this, without an ending: its path below the folder that was named, or its own name. */
  readonly name: string;
  /** In bytes. */
  readonly size: number;
  /** Null of a file. */
  readonly bytes: Uint8Array | null;
}

/** A text to work on. */
export interface Source extends Pick<NamedSource, 'file' | 'name'> {
  readonly text: string;
}

/** Standard input, as a file is named. */
export const STANDARD_INPUT = '-';

/** The endings of lessons, and of scores that can be brought in. */
export const LESSONS = ['.phrase'];
export const SCORES = ['.musicxml', '.mxl', '.xml'];

/** Files, all of some endings below folders, and standard input (`-`), each to be read in its turn. Throws `CannotRun` where there is nothing to read. */
export async function nameSources(named: readonly string[], endings: readonly string[]): Promise<NamedSource[]> {
  if (named.filter((file) => file === STANDARD_INPUT).length > 1) throw new CannotRun('standard input can be read once. Name - once.');
  const sources: NamedSource[] = [];
  const add = (file: string, name: string): void => void sources.push({ file, name, size: sizeOf(file), bytes: null });
  for (const file of named) {
    if (file === STANDARD_INPUT) {
      const bytes = await standardInput();
      sources.push({ file, name: 'lesson', size: bytes.length, bytes });
    } else if (isFolder(file)) for (const one of filesBelow(file, endings)) add(one, withoutEnding(relative(file, one)));
    else add(file, withoutEnding(basename(file)));
  }
  return sources;
}

/** The texts of lessons, all of them at once. Throws `CannotRun` where there is nothing to read. */
export async function readSources(named: readonly string[]): Promise<Source[]> {
  return (await nameSources(named, LESSONS)).map((source) => ({ file: source.file, name: source.name, text: textOfSource(source) }));
}

/** Throws `CannotRun` where there is no file any more, or no text in it. */
export function textOfSource({ file, bytes }: NamedSource): string {
  return bytes === null ? readText(file) : textOf(bytes, file === STANDARD_INPUT ? 'standard input' : file);
}

/** A score to bring in, as it stands on the disk. */
export interface ScoreFile extends Pick<Source, 'file' | 'name'> {
  readonly bytes: Uint8Array;
}

/** The bytes of scores. Throws `CannotRun` where there is nothing to read. */
export async function readScores(named: readonly string[]): Promise<ScoreFile[]> {
  return (await nameSources(named, SCORES)).map(({ file, name, bytes }) => ({ file, name, bytes: bytes ?? readBytes(file) }));
}

function isFolder(file: string): boolean {
  try {
    return statSync(file, { throwIfNoEntry: false })?.isDirectory() === true;
  } catch (error) {
    throw new CannotRun(`${file}: ${reasonOf(error)}.`);
  }
}

/** In the order of their paths, name by name. */
function filesBelow(folder: string, endings: readonly string[]): string[] {
  let found: string[];
  try {
    found = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  } catch (error) {
    throw new CannotRun(`${folder}: ${reasonOf(error)}.`);
  }
  const files = found
    .filter((file) => endings.some((ending) => file.endsWith(ending)) && !isFolder(join(folder, file)))
    .sort((a, b) => compareNames(a.split(sep), b.split(sep)));
  if (files.length === 0) throw new CannotRun(`${folder}: there is no file below this folder that ends in ${endings.join(' or ')}.`);
  return files.map((file) => join(folder, file));
}

function compareNames([a, ...deeper]: readonly string[], [b, ...deepest]: readonly string[]): number {
  if (a === undefined || b === undefined) return a === b ? 0 : a === undefined ? -1 : 1;
  return a === b ? compareNames(deeper, deepest) : a < b ? -1 : 1;
}

function withoutEnding(path: string): string {
  return path.replace(/(?<=[^\\/])\.[^.\\/]+$/, '');
}

async function standardInput(): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of process.stdin as AsyncIterable<Buffer>) {
    size += chunk.length;
    if (size > MOST_BYTES)
      throw new CannotRun(`standard input has more than ${MOST_BYTES} bytes, and no more are read. Split it into several lessons.`);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

/** The text of a UTF-8 file, a byte order mark kept. Throws `CannotRun` where there is no file, no text, or too much of it. */
export function readText(file: string): string {
  return textOf(readBytes(file), file);
}

function textOf(bytes: Uint8Array, file: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new CannotRun(
      `${file}: this is not UTF-8 (first at byte ${firstBadByte(bytes) + 1}). Save it as UTF-8 and try again; nothing was changed.`,
    );
  }
}

/** In bytes. Throws `CannotRun` where there is no file, or too much in it. */
function sizeOf(file: string): number {
  try {
    const found = statSync(file);
    if (found.isDirectory())
      throw new CannotRun(`${file}: this is a folder. Name the files in it, such as ${file.replace(/[/\\]+$/, '')}/*.phrase.`);
    if (found.size > MOST_BYTES)
      throw new CannotRun(`${file}: this file has ${found.size} bytes; at most ${MOST_BYTES} are read. Split it into several lessons.`);
    return found.size;
  } catch (error) {
    if (error instanceof CannotRun) throw error;
    throw new CannotRun(`${file}: ${reasonOf(error)}.`);
  }
}

function readBytes(file: string): Buffer {
  sizeOf(file);
  try {
    return readFileSync(file);
  } catch (error) {
    throw new CannotRun(`${file}: ${reasonOf(error)}.`);
  }
}

/** What the system says, in words. */
export function reasonOf(error: unknown): string {
  const words = wordsOfCode((error as NodeJS.ErrnoException | null)?.code ?? '');
  return words ?? (error instanceof Error ? error.message : String(error));
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
