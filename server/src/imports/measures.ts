/** The measures of one part: the notes of one voice, chord symbols, signs, key and meter. */
import { Fraction } from '../model/fraction';
import { later, meterOf, ZERO } from '../model/time';
import type { Meter } from '../model/types';
import { transposeName, type Shift } from '../theory/interval';
import type { Key, PartName } from '../theory/types';
import { nothingTold, readBarline, readDirection, readSound, type Told, type WordReading } from './directions';
import type { ScorePart } from './document';
import { lengthOf, ticksOf } from './durations';
import { NO_CHORD, readHarmony } from './harmony';
import { isHigher, soundOf } from './notes';
import { partNamed } from './part-name';
import type { Report } from './report';
import { concertKey, concertShift, keyOf, meterIn, signatureOf, transpositionOf, type Signature } from './signature';
import type { SourceMeasure, TuneChord, TuneNote } from './types';
import { Unreadable } from './unreadable';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';

/** What goes on from measure to measure. */
interface Standing {
  divisions: number;
  meter: Meter;
  /** Null where the file has music without a meter. */
  isFree: boolean;
  signature: Signature | null;
  transposition: Shift;
  /** As the part is called from here on. */
  name: string;
  part: PartName | null;
  voice: string | null;
  /** A double bar line stood at the end of the measure before. */
  opens: boolean;
  /** So many bars come again, by a sign in place of their notes; null where there is no such sign. */
  again: number | null;
}

interface PartReading {
  readonly source: ScorePart;
  readonly standing: Standing;
  readonly report: Report;
  /** What a signature without a mode is: decided by the chords. */
  readonly modeOf: (fifths: number) => Key['mode'] | null;
}

/** More than any lead sheet has with its repeats written out. */
const MOST_NOTES = 50_000;

/** Throws `Unreadable` where with what comes again a tune has more notes than any lead sheet. */
export function refuseTooManyNotes(count: number): void {
  if (count > MOST_NOTES)
    throw new Unreadable(`with its repeats written out the tune has more than ${MOST_NOTES} notes. Take repeats out and try again.`);
}

/** Throws `Unreadable` where a measure makes no sense. */
export function readMeasures(source: ScorePart, modeOf: PartReading['modeOf'], report: Report): SourceMeasure[] {
  const standing: Standing = {
    divisions: 1,
    meter: meterOf(4, 4),
    isFree: false,
    signature: null,
    transposition: { diatonic: 0, chromatic: 0 },
    name: source.name,
    part: partNamed(source, { diatonic: 0, chromatic: 0 }),
    voice: null,
    opens: false,
    again: null,
  };
  const reading: PartReading = { source, standing, report, modeOf };
  const measures: SourceMeasure[] = [];
  let count = 0;
  for (const [i, node] of source.measures.entries()) {
    const measure = readMeasure(node, i, reading);
    const before = standing.again === null || measure.notes.length > 0 ? undefined : measures[i - standing.again];
    if (before !== undefined) refuseTooManyNotes((count += before.notes.length));
    measures.push(before === undefined ? measure : cameAgain(measure, before, reading));
  }
  return measures;
}

/** A sign that stands for bars before it: programs that only draw it leave its own bar empty. */
function cameAgain(measure: SourceMeasure, { notes, chords, length }: SourceMeasure, { report }: PartReading): SourceMeasure {
  const { number } = measure;
  report.decided('a sign that bars come again is written out', number);
  return {
    ...measure,
    length,
    notes: notes.map((note) => ({ ...note, measure: number })),
    chords: measure.chords.length > 0 ? measure.chords : chords.map((chord) => ({ ...chord, measure: number })),
  };
}

/** A measure as it is walked through. */
interface Walk {
  readonly number: string;
  ticks: number;
  /** The exact time of each place in divisions that was passed. */
  readonly exact: Map<number, Fraction>;
  end: Fraction;
  readonly told: Told;
  readonly notes: TuneNote[];
  readonly chords: TuneChord[];
  /** Attributes inside the bar, which take effect at the next one. */
  late: XmlNode[];
}

function readMeasure(node: XmlNode, index: number, reading: PartReading): SourceMeasure {
  const { standing, report } = reading;
  const number = node.attributes['number'] ?? String(index + 1);
  const walk: Walk = { number, ticks: 0, exact: new Map([[0, ZERO]]), end: ZERO, told: nothingTold(), notes: [], chords: [], late: [] };
  const opens = standing.opens;
  const words: WordReading = { report, measure: number };
  let head: Pick<SourceMeasure, 'meter' | 'key' | 'part'> | null = null;
  for (const child of node.children) {
    // The bar's own signature is settled before its first note.
    if (head === null && ['note', 'harmony', 'forward'].includes(child.name)) head = headOf(reading);
    step(child, walk, reading, words);
  }
  const { meter, key, part } = head ?? headOf(reading);
  for (const attributes of walk.late) readAttributes(attributes, reading, number);
  const { told } = walk;
  standing.opens = told.opensNext;
  const rests = node.children.some((child) => child.name === 'note' && childOf(child, 'rest')?.attributes['measure'] === 'yes');
  return {
    number,
    implicit: node.attributes['implicit'] === 'yes',
    meter: standing.isFree && walk.end.compare(0) > 0 ? (meterOfLength(walk.end) ?? meter) : meter,
    length: rests && walk.notes.length === 0 ? ZERO : walk.end,
    key,
    part,
    notes: monophonic(walk.notes, number, report),
    chords: walk.chords.sort((a, b) => a.onset.compare(b.onset)),
    signs: told.signs,
    inside: told.inside,
    name: told.rehearsal ?? told.title,
    // A second ending goes on with the phrase that the repeat sign before it sent back.
    opens: told.rehearsal !== null || (told.signs.endingStart === null && (opens || told.opensHere || told.signs.forward)),
    tempo: told.tempo,
    feel: told.feel,
  };
}

function headOf({ standing, modeOf }: PartReading): Pick<SourceMeasure, 'meter' | 'key' | 'part'> {
  const { signature, meter, part } = standing;
  if (signature === null) return { meter, key: null, part };
  const mode = signature.mode ?? modeOf(signature.fifths);
  return { meter, part, key: mode === null ? null : concertKey(keyOf({ fifths: signature.fifths, mode }), shiftOf(standing)) };
}

function shiftOf({ transposition, signature }: Standing): Shift {
  return concertShift(transposition, signature);
}

/** A meter of just this length, in quarters, eighths or sixteenths; null where there is none. */
export function meterOfLength(length: Fraction): Meter | null {
  for (const unit of [4, 8, 16]) {
    const beats = length.mul(unit).div(4);
    if (beats.d === 1n && beats.compare(0) > 0 && beats.compare(32) <= 0) return meterOf(Number(beats.n), unit);
  }
  return null;
}

function step(child: XmlNode, walk: Walk, reading: PartReading, words: WordReading): void {
  const { report } = reading;
  switch (child.name) {
    case 'attributes':
      if (walk.ticks === 0) readAttributes(child, reading, walk.number);
      else walk.late.push(child);
      // A change of divisions counts from where it stands.
      if (walk.ticks !== 0) readDivisions(child, reading, walk.number);
      return;
    case 'note':
      readNote(child, walk, reading);
      return;
    case 'backup':
      walk.ticks = Math.max(0, walk.ticks - ticksOf(child, walk.number));
      return;
    case 'forward':
      advance(walk, new Fraction(ticksOf(child, walk.number)).div(reading.standing.divisions), ticksOf(child, walk.number), reading);
      return;
    case 'harmony':
      readChordSymbol(child, walk, reading);
      return;
    case 'direction':
      readDirection(child, walk.told, walk.ticks === 0, words);
      return;
    case 'sound':
      readSound(child, walk.told, words);
      return;
    case 'barline':
      readBarline(child, walk.told, timeAt(walk, walk.ticks, reading));
      return;
    case 'print':
      readPrint(child, reading);
      return;
    case 'figured-bass':
      report.leftOut('figured bass', walk.number);
      return;
    default:
  }
}

function readDivisions(attributes: XmlNode, { standing }: PartReading, measure: string): void {
  const text = textAt(attributes, 'divisions');
  if (text === null) return;
  const divisions = Number(text);
  if (!(divisions > 0 && divisions <= 1_000_000))
    throw new Unreadable(`measure ${measure}: “${text.slice(0, 20)}” divisions of a quarter make no sense. Export the score again.`);
  standing.divisions = divisions;
}

function readAttributes(attributes: XmlNode, reading: PartReading, measure: string): void {
  const { standing, report, source } = reading;
  readDivisions(attributes, reading, measure);
  const firstOf = (name: string): XmlNode | undefined =>
    childrenOf(attributes, name).find((one) => (one.attributes['number'] ?? '1') === '1');
  const key = firstOf('key');
  if (key !== undefined) standing.signature = signatureOf(key, report, measure);
  const time = firstOf('time');
  if (time !== undefined) {
    const meter = meterIn(time, report, measure);
    standing.isFree = meter === null;
    if (meter !== null) standing.meter = meter;
  }
  const again = childrenOf(attributes, 'measure-style')
    .filter((one) => (one.attributes['number'] ?? '1') === '1')
    .flatMap((one) => childrenOf(one, 'measure-repeat'))[0];
  if (again !== undefined) standing.again = again.attributes['type'] === 'stop' ? null : Math.max(1, Math.trunc(Number(again.text) || 1));
  const transpose = firstOf('transpose');
  if (transpose !== undefined) {
    const transposition = transpositionOf(transpose);
    if (transposition === null) report.leftOut('a transposition by more than five octaves', measure);
    standing.transposition = transposition ?? { diatonic: 0, chromatic: 0 };
    standing.part = partNamed({ ...source, name: standing.name }, standing.transposition);
  }
}

/** A part may have another name from a measure on. */
function readPrint(print: XmlNode, { standing, source }: PartReading): void {
  const display = childOf(print, 'part-name-display');
  if (display === undefined) return;
  standing.name = childrenOf(display, 'display-text')
    .map(({ text }) => text)
    .join('')
    .trim();
  standing.part = partNamed({ ...source, name: standing.name }, standing.transposition);
}

/** The exact time here. */
function timeAt(walk: Walk, ticks: number, { standing }: PartReading): Fraction {
  return walk.exact.get(ticks) ?? new Fraction(ticks).div(standing.divisions);
}

function advance(walk: Walk, length: Fraction, ticks: number, reading: PartReading): void {
  const end = timeAt(walk, walk.ticks, reading).add(length);
  walk.ticks += ticks;
  if (!walk.exact.has(walk.ticks)) walk.exact.set(walk.ticks, end);
  walk.end = later(walk.end, end);
}

/** A note's voice. Where the file names none it is the first; some files name voices only in bars that have several. A lower staff has one of its own. */
function voiceOf(note: XmlNode): string {
  const staff = textAt(note, 'staff') ?? '1';
  return textAt(note, 'voice') ?? (staff === '1' ? '1' : `staff ${staff}`);
}

function readNote(note: XmlNode, walk: Walk, reading: PartReading): void {
  const { standing, report } = reading;
  const { number } = walk;
  const voice = voiceOf(note);
  if (childOf(note, 'grace') !== undefined) return report.leftOut('grace notes', number);
  const ticks = ticksOf(note, number);
  const isStacked = childOf(note, 'chord') !== undefined;
  const length = lengthOf(note, ticks, standing.divisions);
  const isKept = standing.voice === null || voice === standing.voice;
  standing.voice ??= voice;
  if (!isKept && childOf(note, 'rest') === undefined) report.leftOut(`voice ${voice.replace(/^staff /, 'of staff ')}`, number);
  if (childOf(note, 'cue') !== undefined) report.leftOut('cue notes', number);
  else if (isKept && isStacked) stack(note, walk, reading);
  else if (isKept) place(note, length, walk, reading);
  if (!isStacked) advance(walk, length, ticks, reading);
}

function place(note: XmlNode, length: Fraction, walk: Walk, reading: PartReading): void {
  const sound = soundOf(note, shiftOf(reading.standing), reading.report, walk.number);
  if (sound === null) return;
  if (length.equals(0)) reading.report.leftOut('notes without a length', walk.number);
  else walk.notes.push({ ...sound, onset: timeAt(walk, walk.ticks, reading), length, measure: walk.number });
}

/** Of notes at once the highest is the melody. */
function stack(note: XmlNode, walk: Walk, reading: PartReading): void {
  const sound = soundOf(note, shiftOf(reading.standing), reading.report, walk.number);
  const last = walk.notes[walk.notes.length - 1];
  if (sound === null || last === undefined) return;
  reading.report.leftOut('notes under the highest of several at once', walk.number);
  if (isHigher(sound.pitch, last.pitch))
    walk.notes[walk.notes.length - 1] = {
      ...last,
      pitch: sound.pitch,
      tie: sound.tie,
      marks: [...new Set([...last.marks, ...sound.marks])],
    };
}

function readChordSymbol(node: XmlNode, walk: Walk, reading: PartReading): void {
  const { standing, report } = reading;
  const shift = shiftOf(standing);
  const read = readHarmony(node, (name) => transposeName(name, shift));
  const offset = new Fraction(numberAt(node, 'offset') ?? 0).div(standing.divisions);
  const meant = timeAt(walk, walk.ticks, reading).add(offset);
  const onset = later(ZERO, meant);
  if (meant.compare(0) < 0)
    report.leftOut(`the exact place of ${'unknown' in read ? NO_CHORD : read.symbol}, which is set before its bar`, walk.number);
  if ('unknown' in read) report.leftOut(`${read.unknown}, which the language has no symbol for: N.C. stands in its place`, walk.number);
  else for (const what of read.left) report.leftOut(what, walk.number);
  walk.chords.push({ onset, symbol: 'unknown' in read ? NO_CHORD : read.symbol, measure: walk.number });
}

/** Notes of one voice follow each other: one that is still held gives way to the next. */
function monophonic(notes: readonly TuneNote[], number: string, report: Report): TuneNote[] {
  const sorted = [...notes].sort((a, b) => a.onset.compare(b.onset));
  return sorted.flatMap((note, i): TuneNote[] => {
    const next = sorted[i + 1];
    const room = next === undefined ? null : next.onset.sub(note.onset);
    if (room === null || room.compare(note.length) >= 0) return [note];
    report.leftOut('what sounds under a later note of the same voice', number);
    return room.equals(0) ? [] : [{ ...note, length: room, tie: { ...note.tie, from: false } }];
  });
}
