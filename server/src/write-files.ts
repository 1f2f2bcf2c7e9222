/** Writing what a command makes: whole files or none, and nothing that stands there already is lost unasked. */
import {
  accessSync,
  constants,
  copyFileSync,
  linkSync,
  lstatSync,
  mkdirSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, extname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { createInterface } from 'node:readline/promises';
import { CannotRun, readText, reasonOf } from './read-text';

export interface Output {
  readonly file: string;
  readonly content: string | Uint8Array;
  /** What the file held when it was read, where the content is made of it: a file that holds something else by now is not overwritten. */
  readonly before?: string;
}

/** Files in a folder that was chosen, out of which no link may lead; or one file that was chosen itself (`folder` is null), which may be a link. */
export interface Outputs {
  readonly folder: string | null;
  readonly files: readonly Output[];
}

/** Writes new files, their folders too. Where one exists it asks, or, without a terminal or with standard input in use, refuses. Throws `CannotRun` before anything is written. */
export async function writeNew({ folder: chosen, files: outputs }: Outputs, existing: 'overwrite' | 'ask' | 'refuse'): Promise<void> {
  if (chosen !== null) for (const { file } of outputs) refuseOutside(file, chosen);
  const there = outputs.map(({ file }) => file).filter(exists);
  if (there.length > 0 && existing !== 'overwrite' && !(existing === 'ask' && (await isAgreed(there)))) {
    throw new CannotRun(
      `${there.join(', ')}: ${there.length === 1 ? 'this file exists' : 'these files exist'} already; nothing was written. Add --force to overwrite, or choose another --out.`,
    );
  }
  for (const folder of new Set(outputs.map(({ file }) => dirname(file)))) makeFolder(folder);
  replaceFiles(outputs);
}

/**
 * Writes files, in place of those that exist: first all of them beside their places, then each into its place, so that none is ever half written.
 * Where one cannot be put into its place, those before it are what they were.
 */
export function replaceFiles(outputs: readonly Output[]): void {
  const written: { readonly temporary: string; readonly target: string; readonly file: string; readonly before: string | undefined }[] = [];
  const placed: { readonly target: string; readonly kept: string | null }[] = [];
  let done = 0;
  let current = '';
  try {
    for (const [i, { file, content, before }] of outputs.entries()) {
      current = file;
      // A link stays a link; a file keeps who may read it.
      const target = exists(file) ? realpathSync(file) : file;
      if (exists(target)) accessSync(target, constants.W_OK);
      if (exists(target) && statSync(target).isDirectory()) throw new CannotRun(`${file}: this is a folder. Choose another name.`);
      const temporary = join(dirname(target), `.${process.pid}-${i}${extname(target)}.part`);
      written.push({ temporary, target, file, before });
      writeFileSync(temporary, content, { mode: exists(target) ? statSync(target).mode : 0o666 });
    }
    for (const [i, { temporary, target, file, before }] of written.entries()) {
      current = file;
      if (before !== undefined && readText(file) !== before)
        throw new CannotRun(`${file}: another program has changed it since it was read. Nothing was written; try again.`);
      const kept = exists(target) && written.length > 1 ? keptBeside(target, i) : null;
      placed.push({ target, kept });
      renameSync(temporary, target);
      done += 1;
    }
  } catch (error) {
    for (const { temporary } of written) rmSync(temporary, { force: true });
    for (const { target, kept } of placed.slice(0, done).reverse()) {
      if (kept === null) rmSync(target, { force: true });
      else renameSync(kept, target);
    }
    throw error instanceof CannotRun ? error : new CannotRun(`${current}: ${reasonOf(error)}. Nothing was written.`);
  } finally {
    for (const { kept } of placed) if (kept !== null) rmSync(kept, { force: true });
  }
}

/** What a file was, under another name: the same file where the disk allows it, else a copy. */
function keptBeside(target: string, number: number): string {
  const kept = join(dirname(target), `.${process.pid}-${number}${extname(target)}.kept`);
  rmSync(kept, { force: true });
  try {
    linkSync(target, kept);
  } catch {
    copyWhole(target, kept);
  }
  return kept;
}

/** A copy that the disk has no room for is not left half made. */
function copyWhole(from: string, to: string): void {
  try {
    copyFileSync(from, to);
  } catch (error) {
    rmSync(to, { force: true });
    throw error;
  }
}

/** No link in a folder may take a file out of it: neither one in place of the file, nor one in place of a folder on the way to it. */
function refuseOutside(file: string, folder: string): void {
  const own = truePlace(resolve(folder));
  const place = truePlace(resolve(file));
  const way = own === null || place === null ? '..' : relative(own, place);
  if (way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way)) return;
  throw new CannotRun(
    `${file}: a link leads out of ${folder} here, and nothing is written there. Remove the link, or choose another --out.`,
  );
}

/** Where a path leads, be there a file already or not; null where a link leads to nothing. */
function truePlace(path: string): string | null {
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (found !== undefined) return exists(path) ? realpathSync(path) : null;
  const above = dirname(path);
  const place = above === path ? path : truePlace(above);
  return place === null ? null : join(place, relative(above, path));
}

function exists(file: string): boolean {
  try {
    return statSync(file, { throwIfNoEntry: false }) !== undefined;
  } catch (error) {
    throw new CannotRun(`${file}: ${reasonOf(error)}. Nothing was written.`);
  }
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new CannotRun(`${folder}: ${reasonOf(error)}.`);
  }
}

async function isAgreed(files: readonly string[]): Promise<boolean> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    const answer = await terminal.question(`${files.join(', ')} ${files.length === 1 ? 'exists' : 'exist'} already. Overwrite? [y/N] `);
    return /^y(?:es)?$/i.test(answer.trim());
  } finally {
    terminal.close();
  }
}
