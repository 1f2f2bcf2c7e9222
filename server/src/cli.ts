/** The command line: the same engine as the editor's, for scripts and for other editors. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { checkReport, checkText } from './features/report';
import { explainDocument } from './explain/document';
import { walkthroughMarkdown, walkthroughText } from './explain/walkthrough';
import { escapeMarkdown } from './features/hover/words';
import { readPhrase } from './analysis/read';
import { UnplayableNote, writeMidiFile, type MidiOptions } from './exports/midi';
import { writeMusicXml, type MusicXmlOptions } from './exports/musicxml';
import { formatText } from '../../grammar/printer';
import { fixAll } from './features/fix-all';
import { readSettings, type Settings } from './features/options';
import { lessonTitle, openSnapshot, type Snapshot } from './model/snapshot';
import { findingsOf } from './rules/findings';
import { CannotRun, readText, reasonOf } from './read-text';
import { VERSION } from './version';

const HELP = `Usage: phrasewright COMMAND [OPTIONS] FILE…

Commands
  check     list the findings of each file
  explain   the walk-through of each phrase: degrees, devices, claims
  format    align bar lines and beat groups (to standard output)
  export    write each file in a format of the trade (--to musicxml or midi)
  fix       apply the safe fixes to each file, and say what is left
  serve     run the language server (with --stdio)

Options
  --format text|json|markdown  how to print the answer (default text; markdown: explain only)
  --profile melodic|harmonic   which avoid notes to report (default melodic)
  --to musicxml|midi           export: MusicXML 4.0, for any engraving program; a Standard MIDI File, for any player
  --out DIR                    export: the folder to write to (without it, one file goes to standard output)
  --pitch written|concert      export: as the part reads it, or as it sounds (default written)
  --degrees                    export to MusicXML: degrees under the notes
  --straight                   export to MIDI: eighths as written, not as they are swung
  --keys all                   export to MIDI: each phrase in all twelve keys, its own first
  --write                      format: write the file itself
  --check                      format: only say which files would change
  --help, --version

Exit codes: 0 clean, 1 findings of warning or error (or files to format), 2 could not run.
`;

interface Options {
  readonly json: boolean;
  readonly markdown: boolean;
  readonly settings: Settings;
  readonly write: boolean;
  readonly checkOnly: boolean;
  readonly out: string | null;
  readonly score: MusicXmlOptions;
  readonly midi: MidiOptions;
}

export function main(args: readonly string[]): number {
  try {
    return run(args);
  } catch (error) {
    // Whatever happens, a script must be able to tell “could not run” from “found something”.
    const told = error instanceof CannotRun ? error.message : `this is a mistake in Phrasewright itself. ${(error as Error).stack ?? String(error)}`;
    process.stderr.write(`phrasewright: ${told}\n`);
    return 2;
  }
}

function run(args: readonly string[]): number {
  const { values, positionals } = readArguments(args);
  if (values.help === true) return print(HELP);
  if (values.version === true) return print(`${VERSION}\n`);
  const [command, ...files] = positionals;
  if (command === undefined) throw new CannotRun('no command. Write check, explain, format, fix, export or serve; --help lists them.');
  if (!['check', 'explain', 'format', 'fix', 'export'].includes(command)) throw new CannotRun(`“${command}” is no command. Write check, explain, format, fix, export or serve.`);
  if (files.length === 0) throw new CannotRun(`${command} needs at least one file.`);
  refuseStrayOptions(command, values);
  const format = choice('format', values.format, command === 'explain' ? ['text', 'json', 'markdown'] : ['text', 'json']);
  const profile = choice('profile', values.profile, ['melodic', 'harmonic']);
  const options: Options = {
    json: format === 'json', markdown: format === 'markdown', settings: readSettings({ profile }), write: values.write === true, checkOnly: values.check === true,
    out: values.out ?? null, score: { pitch: choice('pitch', values.pitch, ['written', 'concert']), degrees: values.degrees === true, words: 'sheet' },
    midi: { eighths: values.straight === true ? 'as-written' : 'as-played', keys: choice('keys', values.keys, ['written', 'all']) },
  };
  const texts = files.map((file) => ({ file, text: readText(file) }));
  if (command === 'check') return check(texts, options);
  if (command === 'fix') return fix(texts, options);
  refuseTooLong(texts, options.settings);
  if (command === 'export') return exportFiles(texts, options, values.to);
  return command === 'explain' ? explain(texts, options) : formatFiles(texts, options);
}

/** An option that does nothing here was meant for another command, or for another option; silence would hide that. */
function refuseStrayOptions(command: string, { write, check: only, format, stdio, to, out, pitch, degrees, straight, keys }: ReturnType<typeof parse>['values']): void {
  const stray = [['--write', write, 'format'], ['--check', only, 'format'], ['--stdio', stdio, 'serve'],
    ['--to', to !== undefined, 'export'], ['--out', out !== undefined, 'export'], ['--pitch', pitch !== undefined, 'export'], ['--degrees', degrees, 'export'],
    ['--straight', straight, 'export'], ['--keys', keys !== undefined, 'export']] as const;
  for (const [name, given, owner] of stray) {
    if (given === true && owner !== command) throw new CannotRun(`${name} belongs to ${owner}, not to ${command}. --help lists the options.`);
  }
  if ((command === 'format' || command === 'export') && format !== undefined) throw new CannotRun('--format belongs to check and explain. --help lists the options.');
  for (const [name, given, owner] of [['--pitch', pitch !== undefined, 'musicxml'], ['--degrees', degrees, 'musicxml'], ['--straight', straight, 'midi'], ['--keys', keys !== undefined, 'midi']] as const) {
    if (given === true && to !== undefined && to !== owner) throw new CannotRun(`${name} belongs to export --to ${owner}. --help lists the options.`);
  }
  if (write === true && only === true) throw new CannotRun('--write writes the files and --check leaves them as they are. Choose one.');
}

function readArguments(args: readonly string[]): ReturnType<typeof parse> {
  try {
    return parse(args);
  } catch (error) {
    throw new CannotRun(`${(error as Error).message.split('. ')[0]}. --help lists the options.`);
  }
}

function parse(args: readonly string[]) {
  return parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string' }, profile: { type: 'string' }, write: { type: 'boolean' }, check: { type: 'boolean' },
      help: { type: 'boolean', short: 'h' }, version: { type: 'boolean' }, stdio: { type: 'boolean' },
      to: { type: 'string' }, out: { type: 'string' }, pitch: { type: 'string' }, degrees: { type: 'boolean' }, straight: { type: 'boolean' }, keys: { type: 'string' },
    },
  });
}

function choice<T extends string>(name: string, value: string | undefined, allowed: readonly [T, ...T[]]): T {
  if (value === undefined) return allowed[0];
  const found = allowed.find((one) => one === value);
  if (found === undefined) throw new CannotRun(`--${name} is ${allowed.join(' or ')}, not “${value}”.`);
  return found;
}

function print(text: string): number {
  process.stdout.write(text);
  return 0;
}

interface FileText {
  readonly file: string;
  readonly text: string;
}

function snapshotOf({ file, text }: FileText): Snapshot {
  return openSnapshot(file, 1, text);
}

/** `check` reports a file that is too long as a finding; the other commands have nothing to say about one. */
function refuseTooLong(texts: readonly FileText[], settings: Settings): void {
  for (const one of texts) {
    const refused = findingsOf(snapshotOf(one), settings.theory).find(({ rule }) => rule === 'file-too-long');
    if (refused !== undefined) throw new CannotRun(`${one.file}: ${refused.message}`);
  }
}

function check(texts: readonly FileText[], { json, settings }: Options): number {
  const files = texts.map((one) => checkReport(one.file, snapshotOf(one), settings.theory));
  process.stdout.write(json ? `${JSON.stringify({ version: VERSION, files }, null, 2)}\n` : checkText(files));
  return files.some((file) => file.findings.some(({ severity }) => severity === 'error' || severity === 'warning')) ? 1 : 0;
}

function explain(texts: readonly FileText[], { json, markdown, settings }: Options): number {
  const snapshots = texts.map(snapshotOf);
  if (json) {
    const phrases = snapshots.flatMap((snapshot) => explainDocument(snapshot, settings.theory));
    process.stdout.write(`${JSON.stringify({ version: VERSION, phrases }, null, 2)}\n`);
    return 0;
  }
  const readings = snapshots.flatMap(({ phrases }) => phrases.map(({ phrase }) => readPhrase(phrase, settings.theory)));
  const told = readings.map((reading) => (markdown ? walkthroughMarkdown(reading, escapeMarkdown) : walkthroughText(reading)));
  process.stdout.write(told.join('\n'));
  return 0;
}

function fix(texts: readonly FileText[], { settings }: Options): number {
  const reports = texts.map(({ file, text }) => {
    const { text: mended, applied } = fixAll(text, settings.theory);
    if (mended !== text) writeDocument(file, mended);
    for (const { rule, title } of applied) process.stdout.write(`${file}: fixed ${rule} (${title})\n`);
    return checkReport(file, snapshotOf({ file, text: mended }), settings.theory);
  });
  process.stdout.write(checkText(reports));
  return reports.some(({ findings }) => findings.some(({ severity }) => severity === 'error' || severity === 'warning')) ? 1 : 0;
}

function formatFiles(texts: readonly FileText[], { write, checkOnly }: Options): number {
  let changed = 0;
  for (const { file, text } of texts) {
    const formatted = formatText(text);
    if (checkOnly && formatted !== text) process.stdout.write(`${file} would be formatted\n`);
    if (write && formatted !== text) writeDocument(file, formatted);
    if (!write && !checkOnly) process.stdout.write(formatted);
    if (formatted !== text) changed += 1;
  }
  return checkOnly && changed > 0 ? 1 : 0;
}

/** One document a file; the lesson's title, or the file's name, is its title. */
function exportFiles(texts: readonly FileText[], options: Options, to: string | undefined): number {
  if (to === undefined) throw new CannotRun('export needs to be told the format. Write export --to musicxml or export --to midi.');
  const format = choice('to', to, ['musicxml', 'midi']);
  const { out } = options;
  if (out === null && texts.length > 1) throw new CannotRun('several files need a folder to be written to. Add --out DIR.');
  if (out !== null) makeFolder(out);
  const names = texts.map(({ file }) => `${basename(file, extname(file))}.${format === 'midi' ? 'mid' : 'musicxml'}`);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined) throw new CannotRun(`two of the files would both be written to ${twice}. Export them to folders of their own.`);
  for (const [i, one] of texts.entries()) {
    const document = exported(one, options, format);
    if (out === null) process.stdout.write(document);
    else writeDocument(join(out, names[i]!), document);
  }
  return 0;
}

function exported(one: FileText, { settings, score, midi }: Options, format: 'musicxml' | 'midi'): string | Uint8Array {
  const snapshot = snapshotOf(one);
  const title = lessonTitle(snapshot) || basename(one.file, extname(one.file));
  const readings = snapshot.phrases.map(({ phrase }) => readPhrase(phrase, settings.theory));
  if (format === 'musicxml') return writeMusicXml(readings, title, score);
  try {
    return writeMidiFile(readings, title, midi);
  } catch (error) {
    if (!(error instanceof UnplayableNote)) throw error;
    throw new CannotRun(`${one.file}: ${error.message}`);
  }
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new CannotRun(`${folder}: ${reasonOf(error)}.`);
  }
}

function writeDocument(file: string, document: string | Uint8Array): void {
  try {
    writeFileSync(file, document);
  } catch (error) {
    throw new CannotRun(`${file}: ${reasonOf(error)}.`);
  }
}

/** Runs the language server; the transport is one that `vscode-languageserver` reads from the arguments itself. */
function serveFrom(args: readonly string[]): void {
  if (args.includes('--help') || args.includes('-h')) {
    process.stdout.write(HELP);
    return;
  }
  if (!args.some((arg) => /^--(?:stdio|node-ipc|socket|pipe)(?:=|$)/.test(arg))) {
    process.stderr.write('phrasewright: serve needs to be told how to talk. Write serve --stdio.\n');
    process.exitCode = 2;
    return;
  }
  // The server is heavy; only `serve` loads it.
  void import('./main-node').then(({ serve }) => serve());
}

// A reader that has seen enough (`phrasewright explain … | head`) is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

const [, , ...args] = process.argv;
if (args[0] === 'serve') serveFrom(args.slice(1));
else process.exitCode = main(args);
