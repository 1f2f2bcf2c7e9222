/** Older material brought in: a score in MusicXML 1 to 4 as the text of a lesson, and what was not kept. */
import { formatText } from '../../../grammar/printer';
import { openSnapshot } from '../model/snapshot';
import type { Key } from '../theory/types';
import { scoreXml } from './bytes';
import { cutTune, type CutPhrase } from './cut';
import { choosePart, readDocument, type ScoreDocument, type ScorePart } from './document';
import { readGivenChords, withChords } from './given-chords';
import { readMeasures } from './measures';
import { phraseText, quoted } from './phrase-text';
import { openReport, type Report, type ReportLine } from './report';
import { keyOf } from './signature';
import { tuneOf } from './tune';
import type { SourceMeasure } from './types';
import { Unreadable } from './unreadable';
import { childOf, childrenOf, numberAt, parseXml, textAt, type XmlNode } from './xml';

/** Of a phrase, when a number is asked for. */
export const MOST_BARS = 64;

export interface ImportOptions {
  /** The part's id, name or place from 1; the first one unless told. */
  readonly part?: string;
  /** Bars a phrase, 1 to `MOST_BARS`; unless told eight, with passages of up to twelve left whole. */
  readonly bars?: number;
  /** Chords bar by bar in place of the file's, as in an `over` row. */
  readonly chords?: string;
}

export interface Imported {
  /** A formatted lesson that parses without error. */
  readonly text: string;
  readonly report: readonly ReportLine[];
}

/** Throws `Unreadable` where a file is no score, is broken, or is larger than any lead sheet. `name` is the title of a score that has none. */
export function importMusicXml(bytes: Uint8Array, name: string, options: ImportOptions = {}): Imported {
  const given = options.chords === undefined ? null : readGivenChords(options.chords);
  const report = openReport();
  const document = readDocument(parseXml(scoreXml(bytes)));
  const part = choosePart(document, options.part);
  tellOtherParts(document, part, report);
  const measures = readMeasures(part, modeFinder(part, report), report);
  tellGaps(measures, report);
  const tune = tuneOf(given === null ? withChordsOf(document, part, measures, report) : measures, report);
  const phrases = cutTune(given === null ? tune : withChords(tune, given), options.bars ?? null, report);
  const text = formatText(lessonText(document, name, phrases, report));
  refuseErrors(text);
  return { text, report: report.lines() };
}

function tellOtherParts({ parts }: ScoreDocument, chosen: ScorePart, report: Report): void {
  const others = parts.filter((part) => part !== chosen).map(({ id, name }) => (name === '' ? id : name));
  if (others.length > 0) report.leftOut(`${others.length === 1 ? 'the part' : 'the parts'} ${others.join(', ')}`, null);
}

/** Measures are numbered one after another; where a number is left out, one may be lost. */
function tellGaps(measures: readonly SourceMeasure[], report: Report): void {
  measures.forEach(({ number, implicit }, i) => {
    const before = Number(measures[i - 1]?.number);
    if (i > 0 && !implicit && Number(number) > before + 1)
      report.leftOut(`the measures between ${before} and ${number}, which the file does not have`, number);
  });
}

/** A signature without a mode is minor where the last chord is the minor tonic, else major; without sharps or flats it says no key at all. */
function modeFinder({ measures }: ScorePart, report: Report): (fifths: number) => Key['mode'] | null {
  const last = measures.flatMap((measure) => childrenOf(measure, 'harmony')).findLast((harmony) => textAt(harmony, 'kind') !== 'none');
  return (fifths) => {
    if (fifths === 0) return null;
    const tonic = keyOf({ fifths, mode: 'minor' }).tonic;
    const isMinor = last !== undefined && isOn(last, tonic) && /^minor|^half-diminished/.test(textAt(last, 'kind') ?? '');
    const mode = isMinor ? 'minor' : 'major';
    report.decided(`key signatures without a mode are read as ${mode}`, null);
    return mode;
  };
}

function isOn(harmony: XmlNode, { letter, alter }: Key['tonic']): boolean {
  return textAt(harmony, 'root', 'root-step') === letter && (numberAt(harmony, 'root', 'root-alter') ?? 0) === alter;
}

/** Where the part has no chord symbols, those of another part count: they stand over the first staff of many scores. */
function withChordsOf(
  { parts }: ScoreDocument,
  part: ScorePart,
  measures: readonly SourceMeasure[],
  report: Report,
): readonly SourceMeasure[] {
  const hasChords = (one: ScorePart): boolean => one.measures.some((measure) => childOf(measure, 'harmony') !== undefined);
  const other = hasChords(part) ? undefined : parts.find(hasChords);
  if (other === undefined) return measures;
  report.decided(`the chord symbols are those of the part ${other.name === '' ? other.id : other.name}`, null);
  const theirs = readMeasures(other, () => null, openReport());
  return measures.map((measure, i) => ({ ...measure, chords: theirs[i]!.chords }));
}

function lessonText({ title, credits }: ScoreDocument, name: string, phrases: readonly CutPhrase[], report: Report): string {
  const shown = title ?? name;
  const head = [`lesson ${quoted(shown)}`, ...(credits.length === 0 ? [] : [`about ${quoted(credits.join('. '))}`])];
  const names = differentNames(phrases.map(({ name: own, from, to }) => own ?? (phrases.length === 1 ? shown : barsName(from, to))));
  return [`${head.join('\n')}\n`, ...phrases.map((phrase, i) => phraseText(phrase, names[i]!, report))].join('\n');
}

function barsName(from: number, to: number): string {
  return from === to ? `Bar ${from}` : `Bars ${from}–${to}`;
}

/** A passage that comes again has its name with a number. */
function differentNames(names: readonly string[]): string[] {
  const counts = new Map<string, number>();
  return names.map((name) => {
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    return count === 1 ? name : `${name} (${count})`;
  });
}

/** What is written is read again: an error in it is ours, but for chords that were given. */
function refuseErrors(text: string): void {
  const snapshot = openSnapshot('', 1, text);
  const problems = [
    ...snapshot.slices.flatMap(({ parsed }) => parsed.problems),
    ...snapshot.phrases.flatMap(({ phrase }) => phrase.problems),
  ].filter(({ severity }) => severity === 'error');
  const [first] = problems;
  if (first === undefined) return;
  if (first.rule === 'numeral-without-key')
    throw new Unreadable('--chords: Roman numerals need a key, and the file names none. Write chord symbols.');
  throw new Error(`the imported text has an error of its own (${first.rule}):\n${text.slice(0, 2000)}`);
}
