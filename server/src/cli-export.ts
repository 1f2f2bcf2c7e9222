/** `export`: lessons in formats of the trade, and as handouts. */
import { realpathSync } from 'node:fs';
import { basename, extname, join, resolve, sep } from 'node:path';
import type { TheoryOptions } from './analysis/types';
import {
  choice,
  EXPORTS,
  handoutOptions,
  midiOptions,
  musicXmlOptions,
  remarkKinds,
  type ExportFormat,
  type Values,
} from './cli-arguments';
import { differentNames, safeName } from './file-names';
import { SHEET_ENDINGS } from './handout/types';
import { onFault } from './model/faults';
import { musicFile, NothingWritten, type MusicFileOptions } from './music-file';
import { MUSIC_ENDINGS, type MusicFormat } from './music-formats';
import { CannotRun, STANDARD_INPUT, type Source } from './read-text';
import { forTerminal } from './terminal-text';
import { writeNew, type Output, type Outputs } from './write-files';

export interface ExportRequest {
  readonly sources: readonly Source[];
  /** The files, folders and `-` that were named. */
  readonly named: readonly string[];
  readonly values: Values;
  readonly theory: TheoryOptions;
}

/** What files of a format end in, without the dot. */
const ENDINGS: Readonly<Record<ExportFormat, string>> = { ...MUSIC_ENDINGS, html: 'html', pdf: 'pdf' };

/** Answers the exit code: 1 where something could not be done as asked, which is told on standard error. */
export async function exportSources(request: ExportRequest): Promise<number> {
  const { sources, named, values } = request;
  if (values.to === undefined)
    throw new CannotRun(
      `export needs to be told the format. Write export --to ${EXPORTS.slice(0, -1).join(', --to ')} or --to ${EXPORTS.at(-1)}.`,
    );
  const format = choice('to', values.to, EXPORTS);
  const { documents, notices, faulty } = format === 'html' || format === 'pdf' ? await handout(request, format) : music(request, format);
  const { out } = values;
  if (out === undefined) {
    const [only] = documents;
    if (only === undefined || documents.length > 1) throw new CannotRun('several files need a folder to be written to. Add --out DIR.');
    if ((format === 'pdf' || format === 'mxl') && process.stdout.isTTY)
      throw new CannotRun(
        `a ${format === 'pdf' ? 'PDF' : 'compressed score'} is nothing to read on a terminal. Add --out DIR, or --out FILE.${format}.`,
      );
    process.stdout.write(only.content);
  } else {
    const outputs = placed(documents, out, `.${ENDINGS[format]}`);
    refuseOwnSources(outputs.files, sources);
    const isTerminal = process.stdin.isTTY === true && process.stderr.isTTY === true && !named.includes(STANDARD_INPUT);
    await writeNew(outputs, values.force === true ? 'overwrite' : isTerminal ? 'ask' : 'refuse');
    for (const { file } of outputs.files) process.stdout.write(forTerminal(`wrote ${file}\n`));
  }
  for (const notice of notices) process.stderr.write(forTerminal(`phrasewright: ${notice}\n`));
  return notices.length > 0 || faulty ? 1 : 0;
}

/** A document before it has its place: `name` is what it is called below the folder, without an ending. */
export interface Document {
  readonly name: string;
  readonly content: Output['content'];
}

/** In a folder, or the one document under the name that was given: `--out book.pdf`. */
export function placed(documents: readonly Document[], out: string, ending: string): Outputs {
  const isFile = extname(out).toLowerCase() === ending;
  if (isFile && documents.length > 1) throw new CannotRun(`several files cannot all be written to ${out}. Name a folder with --out DIR.`);
  if (isFile) return { folder: null, files: documents.map(({ content }) => ({ file: out, content })) };
  const names = differentNames(documents.map(({ name }) => pathBelow(name, ending)));
  return { folder: out, files: documents.map(({ content }, i) => ({ file: join(out, names[i]!), content })) };
}

/** Each folder of it, and the file, have names that any system can hold. */
function pathBelow(name: string, ending: string): string {
  const parts = name.split(sep);
  return join(...parts.slice(0, -1).map((part) => safeName(part, '', 'folder')), safeName(parts.at(-1)!, ending, 'lesson'));
}

/** No export takes the place of the lesson it is made of. */
function refuseOwnSources(outputs: readonly Output[], sources: readonly Source[]): void {
  const own = new Set(sources.map(({ file }) => placeOf(file)));
  const lost = outputs.find(({ file }) => own.has(placeOf(file)));
  if (lost !== undefined) throw new CannotRun(`${lost.file}: this is the lesson itself. Choose another --out.`);
}

/** Where a file really stands, so that a link is known for what it leads to. */
function placeOf(file: string): string {
  try {
    return realpathSync(file);
  } catch {
    return resolve(file);
  }
}

interface Made {
  readonly documents: readonly Document[];
  /** What is not as asked, a sentence each. */
  readonly notices: readonly string[];
  /** Whether something broke off; that was told as it did. */
  readonly faulty: boolean;
}

/** One document a lesson; its title, or its file's name, is the document's title. */
function music({ sources, values, theory }: ExportRequest, to: MusicFormat): Made {
  const options: MusicFileOptions = { musicXml: { ...musicXmlOptions(values), remarks: remarkKinds(values) }, midi: midiOptions(values) };
  const written = ({ file, name, text }: Source) => {
    try {
      return { name, file, ...musicFile({ lesson: { name: basename(name), text }, to, options, theory }) };
    } catch (error) {
      if (!(error instanceof NothingWritten)) throw error;
      throw new CannotRun(`${file}: ${error.message}`);
    }
  };
  let faulty = false;
  const end = onFault(() => (faulty = true));
  try {
    const made = sources.map(written);
    return { documents: made, notices: made.flatMap(({ file, notices }) => notices.map((notice) => `${file}: ${notice}`)), faulty };
  } finally {
    end();
  }
}

/** All lessons as one book. */
async function handout({ sources, named, values, theory }: ExportRequest, to: 'html' | 'pdf'): Promise<Made> {
  const options = handoutOptions(values);
  const isTold = process.stderr.isTTY === true;
  // What starts the worker is loaded by handouts alone.
  const { handOut } = await import('./hand-out');
  try {
    const { bytes, notices } = await handOut(
      { lessons: sources.map(({ name, text }) => ({ name: basename(name), text })), options, to, theory },
      {
        onProgress: (done, total) => {
          if (isTold) process.stderr.write(`\r${done} of ${total} phrases${done === total ? '\n' : ''}`);
        },
      },
    );
    return { documents: [{ name: `${bookName(named, sources)}${SHEET_ENDINGS[options.sheet]}`, content: bytes }], notices, faulty: false };
  } catch (error) {
    throw new CannotRun(error instanceof Error ? error.message : String(error));
  }
}

/** A book of one lesson, or of one folder, has its name. */
function bookName(named: readonly string[], sources: readonly Source[]): string {
  const [only, more] = sources;
  if (only !== undefined && more === undefined) return basename(only.name);
  return (named.length === 1 ? basename(resolve(named[0]!)) : '') || 'handout';
}
