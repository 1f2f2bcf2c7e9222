/** What the command line does with its arguments: the same engine as the editor's, for scripts and for other editors. `cli.ts` is the process round it. */
import { once } from 'node:events';
import { checkReport, checkText } from './features/report';
import { choice, COMMANDS, isCommand, readArguments, refuseStrayOptions } from './cli-arguments';
import { exportSources } from './cli-export';
import { importScores } from './cli-import';
import { formatText } from '../../grammar/printer';
import { fixAll } from './features/fix-all';
import { readSettings, type Settings } from './features/options';
import { faultWords, onceEach, onFault } from './model/faults';
import { openSnapshot, type Snapshot } from './model/snapshot';
import { frameOf, refuseTooLong, type ReportOrder } from './file-reports';
import { CannotRun, LESSONS, nameSources, readScores, readSources, STANDARD_INPUT, type Source } from './read-text';
import { piecesOf } from './report-workers';
import { isSevere } from './rules/severe';
import { VERSION } from './version';
import { forTerminal } from './terminal-text';
import { replaceFiles } from './write-files';

export const HELP = `Usage: phrasewright COMMAND [OPTIONS] FILE…

FILE is a file, a folder (every .phrase below it; for import every .musicxml, .mxl and .xml), or - for standard input.

Commands
  check     list the findings of each file
  explain   the walk-through of each phrase: degrees, devices, claims
  format    align bar lines and beat groups (to standard output)
  export    write each file in a format of the trade, or all of them as one handout
  fix       apply the safe fixes to each file (of standard input: to standard output), and say what is left
  import    make lessons of scores in MusicXML (to standard output), and say what was not kept
  serve     run the language server (with --stdio)

Options
  --format text|json|markdown  how to print the answer (default text; markdown: explain only)
  --profile melodic|harmonic   which avoid notes to report (default melodic)
  --length bars|line|notes     explain: a sentence or two a bar, a line a phrase, a sentence a note (default bars)
  --write                      format: write the file itself
  --check                      format: only say which files would change
  --help, --version

Options of export
  --to musicxml|mxl            MusicXML 4.0, for any engraving program; the same compressed
  --to midi                    a Standard MIDI File, for any player
  --to pdf|html                a handout to print, of all files together
  --out DIR                    the folder to write to, or a file such as book.pdf (without it, one document goes to standard output)
  --force                      overwrite what is there (without it, export asks, or refuses where there is no terminal)
  --pitch written|concert      MusicXML: as the part reads it, or as it sounds (default written)
  --degrees                    MusicXML: degrees under the notes
  --with devices,findings      MusicXML: devices as brackets with their names over the notes, findings in words under them
  --straight                   MIDI: eighths as written, not as they are swung
  --keys all                   MIDI, handout: each phrase in all twelve keys, its own first
  --keys C,F,Bb                handout: each phrase in these keys; exercises are chosen from them
  --parts tenor-sax,trumpet    handout: a section for each part, transposed and in its range
  --sheet teacher              handout: degrees, devices, findings, prose, walk-through, claims (default)
  --sheet student|answers      handout: boxes to write the degrees in; the same with the degrees in them
  --sheet exercises            handout: exercises made from the phrases; exercise-answers: what is right
  --seed 2                     exercises: another set; the same number gives the same ones (default 1)
  --without devices,claims     handout: leave out degrees, devices, findings, says, walkthrough or claims
  --paper a4|letter            handout (default a4)

Options of import
  --out DIR                    the folder to write to, or a file such as tune.phrase; --force overwrites
  --part P2                    the part to read, by its id, its name or its place from 1 (default the first); of a part its first voice
  --bars 4                     cut every four bars, beside double bar lines and rehearsal marks (default eight, up to twelve left whole)
  --chords "| Dm7 | G7 |"      these chords, bar by bar, in place of the file's

Exit codes: 0 clean, 1 findings of warning or error (or files to format, an export that is not all that was asked, an import that left something out), 2 could not run.
`;

const COMMAND_LIST = `${COMMANDS.slice(0, -1).join(', ')} or ${COMMANDS.at(-1)}`;

interface Options {
  readonly settings: Settings;
  readonly write: boolean;
  readonly checkOnly: boolean;
}

/** Answers the exit code; what there is to say goes to the streams of the process. */
export async function main(args: readonly string[]): Promise<number> {
  const hearNoMore = onFault(onceEach((fault) => void process.stderr.write(`phrasewright: ${faultWords(fault)}\n`)));
  try {
    return await run(args);
  } catch (error) {
    // Whatever happens, a script must be able to tell “could not run” from “found something”.
    const told =
      error instanceof CannotRun ? error.message : `this is a mistake in Phrasewright itself. ${(error as Error).stack ?? String(error)}`;
    process.stderr.write(`phrasewright: ${forTerminal(told)}\n`);
    return 2;
  } finally {
    hearNoMore();
  }
}

async function run(args: readonly string[]): Promise<number> {
  const { values, positionals } = readArguments(args);
  if (values.help === true) return print(HELP);
  if (values.version === true) return print(`${VERSION}\n`);
  const [command, ...files] = positionals;
  if (command === undefined) throw new CannotRun(`no command. Write ${COMMAND_LIST}; --help lists them.`);
  if (!isCommand(command)) throw new CannotRun(`“${command}” is no command. Write ${COMMAND_LIST}.`);
  if (command === 'serve') throw new CannotRun('serve stands before its options. Write serve --stdio.');
  if (files.length === 0) throw new CannotRun(`${command} needs at least one file.`);
  refuseStrayOptions(command, values);
  const format = choice('format', values.format, command === 'explain' ? ['text', 'json', 'markdown'] : ['text', 'json']);
  const profile = choice('profile', values.profile, ['melodic', 'harmonic']);
  const options: Options = { settings: readSettings({ profile }), write: values.write === true, checkOnly: values.check === true };
  if (options.write && files.includes(STANDARD_INPUT))
    throw new CannotRun('standard input cannot be written to. Leave --write out: the text goes to standard output.');
  if (command === 'import') return await importScores(await readScores(files), values);
  if (command === 'check' || command === 'explain')
    return await report(files, {
      command,
      format,
      length: choice('length', values.length, ['bars', 'line', 'notes']),
      settings: options.settings,
    });
  const sources = await readSources(files);
  if (command === 'fix') return fix(sources, options);
  for (const one of sources) refuseTooLong(one.file, snapshotOf(one), options.settings);
  return command === 'export'
    ? exportSources({ sources, named: files, values, theory: options.settings.theory })
    : formatFiles(sources, options);
}

function print(text: string): number {
  process.stdout.write(text);
  return 0;
}

function snapshotOf({ file, text }: Pick<Source, 'file' | 'text'>): Snapshot {
  return openSnapshot(file, 1, text);
}

/** Says what there is to say of each file as soon as it is read: of however many, a few are in memory. */
async function report(files: readonly string[], order: ReportOrder): Promise<number> {
  const { before, between, after } = frameOf(order);
  let isFirst = true;
  let found = false;
  for await (const piece of piecesOf(order, await nameSources(files, LESSONS), { file: __filename })) {
    found ||= piece.found;
    if (piece.text === '') continue;
    if (!(await written(isFirst ? `${before}${piece.text}` : `${between}${piece.text}`))) return 0;
    isFirst = false;
  }
  const isList = before !== '';
  if (isFirst && !isList && order.command === 'explain')
    throw new CannotRun('there is no phrase to explain. Write one that begins with the word phrase and a name in quotes.');
  await written(isFirst && isList ? `${before}${after}` : isList ? `\n  ${after}` : after);
  return found ? 1 : 0;
}

/** Waits while whoever reads the output is behind; false where nobody reads it any more. */
async function written(text: string): Promise<boolean> {
  if (process.stdout.write(text)) return true;
  return once(process.stdout, 'drain').then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
      return false;
    },
  );
}

/** All files are mended before the first is written. */
function fix(sources: readonly Source[], { settings }: Options): number {
  const mended = sources.map(({ file, text }) => ({ file, before: text, ...fixAll(text, settings.theory) }));
  replaceFiles(
    mended
      .filter(({ file, text, before }) => file !== STANDARD_INPUT && text !== before)
      .map(({ file, text, before }) => ({ file, content: text, before })),
  );
  const reports = mended.map(({ file, text }) => checkReport(file, snapshotOf({ file, text }), settings.theory));
  const told = [
    ...mended.flatMap(({ file, applied }) => applied.map(({ rule, title }) => `${file}: fixed ${rule} (${title})\n`)),
    checkText(reports),
  ].join('');
  // The mended text of standard input goes to standard output, so that what is said of it must not.
  const input = mended.find(({ file }) => file === STANDARD_INPUT);
  if (input !== undefined) process.stdout.write(input.text);
  (input === undefined ? process.stdout : process.stderr).write(forTerminal(told));
  return reports.some(({ findings }) => findings.some(isSevere)) ? 1 : 0;
}

function formatFiles(sources: readonly Source[], { write, checkOnly }: Options): number {
  const formatted = sources.map(({ file, text }) => ({ file, content: formatText(text), before: text }));
  const changed = formatted.filter(({ content, before }) => content !== before);
  if (write) replaceFiles(changed);
  else
    for (const { file, content } of checkOnly ? changed : formatted)
      process.stdout.write(checkOnly ? forTerminal(`${file} would be formatted\n`) : content);
  return checkOnly && changed.length > 0 ? 1 : 0;
}
