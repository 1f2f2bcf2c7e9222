/** The arguments of the command line: what can be given to which command, and what they mean. */
import { parseArgs } from 'node:util';
import type { MidiOptions } from './exports/midi';
import type { MusicXmlOptions } from './exports/musicxml';
import { REMARKS, type RemarkKind } from './handout/remarks';
import { DEFAULT_HANDOUT, EXTRAS, isOfExercises, SEED_LIMIT, SHEETS, shows, type Extra, type HandoutOptions } from './handout/types';
import { MOST_BARS, type ImportOptions } from './imports/import';
import { MUSIC_FORMATS } from './music-formats';
import { CannotRun } from './read-text';
import { nearestPartNames, partByName, PARTS } from './theory/part';
import { formatNoteName, parseNoteName } from './theory/pitch';
import type { PartName } from './theory/types';

export const EXPORTS = [...MUSIC_FORMATS, 'html', 'pdf'] as const;
export type ExportFormat = (typeof EXPORTS)[number];

export const COMMANDS = ['check', 'explain', 'format', 'fix', 'export', 'import', 'serve'] as const;
export type Command = (typeof COMMANDS)[number];

interface OptionRow {
  readonly type: 'string' | 'boolean';
  readonly short?: string;
  /** The commands that it can be given to. */
  readonly of: readonly Command[];
  /** Of those of `export` the formats; left out: all. */
  readonly formats?: readonly ExportFormat[];
}

const XML: readonly ExportFormat[] = ['musicxml', 'mxl'];
const HANDOUTS: readonly ExportFormat[] = ['html', 'pdf'];

/** Every option there is, as `parseArgs` takes them. What it does stands in `HELP` (a test compares them). */
export const OPTIONS = {
  help: { type: 'boolean', short: 'h', of: COMMANDS },
  version: { type: 'boolean', of: COMMANDS },
  format: { type: 'string', of: ['check', 'explain'] },
  profile: { type: 'string', of: ['check', 'explain', 'fix', 'export'] },
  length: { type: 'string', of: ['explain'] },
  write: { type: 'boolean', of: ['format'] },
  check: { type: 'boolean', of: ['format'] },
  stdio: { type: 'boolean', of: ['serve'] },
  to: { type: 'string', of: ['export'] },
  out: { type: 'string', of: ['export', 'import'] },
  force: { type: 'boolean', of: ['export', 'import'] },
  pitch: { type: 'string', of: ['export'], formats: XML },
  degrees: { type: 'boolean', of: ['export'], formats: XML },
  with: { type: 'string', of: ['export'], formats: XML },
  straight: { type: 'boolean', of: ['export'], formats: ['midi'] },
  keys: { type: 'string', of: ['export'], formats: ['midi', ...HANDOUTS] },
  sheet: { type: 'string', of: ['export'], formats: HANDOUTS },
  paper: { type: 'string', of: ['export'], formats: HANDOUTS },
  parts: { type: 'string', of: ['export'], formats: HANDOUTS },
  without: { type: 'string', of: ['export'], formats: HANDOUTS },
  seed: { type: 'string', of: ['export'], formats: HANDOUTS },
  part: { type: 'string', of: ['import'] },
  bars: { type: 'string', of: ['import'] },
  chords: { type: 'string', of: ['import'] },
} as const satisfies Readonly<Record<string, OptionRow>>;

export type Values = ReturnType<typeof parse>['values'];

export function readArguments(args: readonly string[]): ReturnType<typeof parse> {
  try {
    return parse(args);
  } catch (error) {
    throw new CannotRun(`${(error as Error).message.split('. ')[0]}. --help lists the options.`);
  }
}

function parse(args: readonly string[]) {
  return parseArgs({ args: [...args], allowPositionals: true, options: OPTIONS });
}

export function isCommand(word: string): word is Command {
  return COMMANDS.some((command) => command === word);
}

/** An option that does nothing here was meant for another command, or for another option; silence would hide that. */
export function refuseStrayOptions(command: Command, values: Values): void {
  for (const name of Object.keys(OPTIONS) as (keyof typeof OPTIONS)[]) {
    if (values[name] === undefined) continue;
    const { of, formats = EXPORTS }: OptionRow = OPTIONS[name];
    if (!of.includes(command)) throw new CannotRun(`--${name} belongs to ${of.join(' or ')}, not to ${command}. --help lists the options.`);
    const format = EXPORTS.find((one) => one === values.to);
    if (command === 'export' && format !== undefined && !formats.includes(format))
      throw new CannotRun(`--${name} belongs to export --to ${formats.join(' or ')}. --help lists the options.`);
  }
  if (values.write === true && values.check === true)
    throw new CannotRun('--write writes the files and --check leaves them as they are. Choose one.');
}

/** One of some words; left out: the first. */
export function choice<T extends string>(name: string, value: string | undefined, allowed: readonly [T, ...T[]]): T {
  if (value === undefined) return allowed[0];
  const found = allowed.find((one) => one === value);
  if (found === undefined) throw new CannotRun(`--${name} is ${allowed.join(' or ')}, not “${value}”.`);
  return found;
}

export function musicXmlOptions({ pitch, degrees }: Values): Pick<MusicXmlOptions, 'pitch' | 'degrees'> {
  return { pitch: choice('pitch', pitch, ['written', 'concert']), degrees: degrees === true };
}

/** What is said of the phrases beside their notes; left out: nothing. */
export function remarkKinds({ with: shown }: Values): RemarkKind[] {
  return shown === undefined ? [] : listed(shown).map((name) => choice('with', name, REMARKS));
}

export function midiOptions({ straight, keys }: Values): MidiOptions {
  return { eighths: straight === true ? 'as-written' : 'as-played', keys: choice('keys', keys, ['written', 'all']) };
}

export function handoutOptions({ sheet, paper, keys, parts, without, seed }: Values): HandoutOptions {
  const options: HandoutOptions = {
    sheet: choice('sheet', sheet, SHEETS),
    paper: choice('paper', paper, ['a4', 'letter']),
    keys: keys === undefined || keys === 'written' ? 'written' : keys === 'all' ? 'all' : listed(keys).map(tonicNamed),
    parts: parts === undefined ? DEFAULT_HANDOUT.parts : listed(parts).map(partNamed),
    without: without === undefined ? [] : listed(without).map((name): Extra => choice('without', name, EXTRAS)),
    seed: seed === undefined ? DEFAULT_HANDOUT.seed : seedOf(seed),
  };
  if (!isOfExercises(options.sheet) && seed !== undefined)
    throw new CannotRun('--seed belongs to --sheet exercises and --sheet exercise-answers.');
  const idle = options.without.find((extra) => !shows({ ...options, without: [] }, extra));
  if (idle !== undefined) throw new CannotRun(`--without ${idle} does nothing: the ${options.sheet} sheet shows no ${idle}.`);
  return options;
}

export function importOptions({ part, bars, chords }: Values): ImportOptions {
  if (bars !== undefined && !(/^[1-9]\d?$/.test(bars) && Number(bars) <= MOST_BARS))
    throw new CannotRun(`--bars is how many bars a phrase has, 1 to ${MOST_BARS}, not “${bars}”.`);
  return {
    ...(part === undefined ? {} : { part }),
    ...(bars === undefined ? {} : { bars: Number(bars) }),
    ...(chords === undefined ? {} : { chords }),
  };
}

/** `C,F,Bb`: each once. */
function listed(value: string): string[] {
  return [
    ...new Set(
      value
        .split(',')
        .map((one) => one.trim())
        .filter((one) => one !== ''),
    ),
  ];
}

function seedOf(text: string): number {
  const seed = /^\d{1,10}$/.test(text) ? Number(text) : NaN;
  if (!(seed < SEED_LIMIT)) throw new CannotRun(`--seed is a whole number from 0 to ${SEED_LIMIT - 1}, not “${text}”.`);
  return seed;
}

function tonicNamed(name: string): string {
  const tonic = parseNoteName(name);
  if (tonic === null || Math.abs(tonic.alter) > 1)
    throw new CannotRun(`--keys is written, all or tonics such as C,F,Bb; “${name}” is none.`);
  return formatNoteName(tonic);
}

function partNamed(name: string): PartName {
  const part = partByName(name);
  if (part !== null) return part.name;
  const near = nearestPartNames(name);
  throw new CannotRun(
    `--parts: there is no part “${name}”. ${near.length > 0 ? `Did you mean ${near.join(' or ')}?` : `The parts are ${PARTS.map((one) => one.name).join(', ')}.`}`,
  );
}
