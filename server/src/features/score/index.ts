/** The score of a document: each phrase as MusicXML, with what is known of its notes. */
import { readPhrase } from '../../analysis/read';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { walkthroughParagraphs, type Length } from '../../explain/walkthrough';
import { writeMusicXml } from '../../exports/musicxml';
import { phraseHeading } from '../../handout/heading';
import { versionsOf } from '../../handout/versions';
import { pictureDevices } from '../../handout/picture-data';
import { breaksMusic } from '../../model/breaks-music';
import { faultOf, faultWords, guarded, tellFault, type Fault } from '../../model/faults';
import { finished, type Pieces } from '../../model/pieces';
import { lessonTitle, type PlacedPhrase, type Snapshot } from '../../model/snapshot';
import type { Phrase } from '../../model/types';
import { findingsOf, type Finding } from '../../rules/findings';
import { isConcert } from '../../theory/part';
import { phraseNear } from '../place';
import { scoreNotes } from './notes';
import type { Score, ScoreFinding, ScoreOptions, ScorePhrase, SentScore } from './types';

/** The score at an offset of a document: of the phrase there, between phrases of the next one, after the last one of that; or of all of them. */
export function scoreAt(snapshot: Snapshot, offset: number, theory: TheoryOptions, options: Looks): Score {
  const { placed, make, ...head } = lookAt(snapshot, offset, theory, options);
  return { ...head, phrases: placed.map((one) => finished(make(one))) };
}

/** The same for an asker that has some of it already, in parts: from the phrase at the offset outwards, as many whole as are asked for. */
export function sentScoreAt(snapshot: Snapshot, offset: number, theory: TheoryOptions, options: ScoreOptions): SentScore {
  return finished(sentScoreInPieces(snapshot, offset, theory, options));
}

/** The same with a yield after each piece of each phrase that is made. */
export function* sentScoreInPieces(snapshot: Snapshot, offset: number, theory: TheoryOptions, options: ScoreOptions): Pieces<SentScore> {
  const { placed, make, ...head } = lookAt(snapshot, offset, theory, options);
  const known = new Set(options.known);
  const far = (index: number): number => Math.abs(index - (head.here ?? 0));
  let left = options.most ?? Infinity;
  const phrases: SentScore['phrases'][number][] = [];
  for (const i of placed.map((_, index) => index).sort((a, b) => far(a) - far(b))) {
    const one = placed[i]!;
    if (left <= 0 && !isMade(one, theory)) {
      phrases[i] = toCome(one);
      continue;
    }
    const phrase = yield* make(one);
    const isSame = phrase.broken === null && !phrase.unfinished && known.has(phrase.revision);
    if (isSame) phrases[i] = { same: phrase.revision, start: one.start };
    else if (left > 0) {
      left -= 1;
      phrases[i] = phrase;
    } else phrases[i] = toCome(one);
  }
  return { ...head, phrases };
}

/** What is said of the lengths of bars leaves all notes readable. */
const OF_LENGTH: ReadonlySet<string> = new Set(['bar-length', 'missing-bar-line', 'doubled-bar-line', 'other-meter']);

type Looks = Pick<ScoreOptions, 'scope' | 'pitch' | 'waiting' | 'length'>;

interface Looked extends Omit<Score, 'phrases'> {
  readonly placed: readonly PlacedPhrase[];
  readonly make: (one: PlacedPhrase) => Pieces<ScorePhrase>;
}

function lookAt(snapshot: Snapshot, offset: number, theory: TheoryOptions, { scope, pitch, waiting = [], length = 'bars' }: Looks): Looked {
  const here = phraseNear(snapshot, offset);
  const placed = scope === 'lesson' ? snapshot.phrases : here === null ? [] : [here];
  const isWaiting = ({ rule, start, end }: Finding): boolean =>
    waiting.some((one) => one.rule === rule && one.start === start && one.end === end);
  const all = placed.length === 0 ? [] : findingsOf(snapshot, theory);
  const findings = all.filter((finding) => !isWaiting(finding));
  const unfinished = all.filter((finding) => isWaiting(finding) && finding.severity === 'error' && !OF_LENGTH.has(finding.rule));
  return {
    version: snapshot.version,
    here: here === null ? null : placed.indexOf(here),
    lesson: scope === 'lesson' ? lessonTitle(snapshot) : null,
    count: snapshot.phrases.length,
    placed,
    make: (one) => orLost(one, scorePhrase(one, { findings, unfinished, snapshot, theory, pitch, length })),
  };
}

interface Asked {
  /** All of the document, but for those that wait. */
  readonly findings: readonly Finding[];
  /** Those that wait and leave notes out; of a bar that is not full yet all notes are there. */
  readonly unfinished: readonly Finding[];
  readonly snapshot: Snapshot;
  readonly theory: TheoryOptions;
  readonly pitch: ScoreOptions['pitch'];
  readonly length: Length;
}

/** What was made of a reading, its offsets from the phrase's start, and what it was made for. */
interface Made {
  readonly of: string;
  readonly phrase: ScorePhrase;
}
const made = new WeakMap<Reading, Made>();
let revisions = 0;

function isMade({ phrase }: PlacedPhrase, theory: TheoryOptions): boolean {
  return guarded('the score of a phrase', false, () => made.has(readPhrase(phrase, theory)));
}

/** A phrase of which nothing can be made takes no other with it. */
function* orLost(placed: PlacedPhrase, making: Pieces<ScorePhrase>): Pieces<ScorePhrase> {
  try {
    return yield* making;
  } catch (cause) {
    const fault = faultOf('the score of a phrase', cause);
    tellFault(fault);
    return lost(placed, fault);
  }
}

/** In place of its score, what broke off. It is not still to come, so nobody asks for it again and again. */
function lost(placed: PlacedPhrase, fault: Fault): ScorePhrase {
  revisions += 1;
  const empty = toCome(placed);
  return {
    ...empty,
    revision: revisions,
    broken: { severity: 'error', message: faultWords(fault), note: null, start: empty.start, end: empty.start },
  };
}

/** Most phrases are as they were a keystroke ago, but for their place. */
function* scorePhrase(placed: PlacedPhrase, { findings: all, unfinished, snapshot, theory, pitch, length }: Asked): Pieces<ScorePhrase> {
  const { start, phrase } = placed;
  const reading = readPhrase(phrase, theory);
  const end = start + phrase.text.length;
  const own = all.filter((finding) => finding.start >= start && finding.start < end);
  const findings = own.map((finding) => moved(plain(finding), -start));
  const elsewhere = brokenDefinition(phrase, all, snapshot);
  const of = JSON.stringify([pitch, length, findings, elsewhere?.message]);
  const known = made.get(reading);
  const fresh =
    known?.of === of
      ? known
      : { of, phrase: yield* scoreOfReading(reading, wordedIn(pitch, { snapshot, placed }, own, theory), { pitch, length }) };
  made.set(reading, fresh);
  const isUnfinished =
    unfinished.some((finding) => finding.start >= start && finding.start < end && breaksMusic(phrase, finding.start - start)) ||
    brokenDefinition(phrase, unfinished, snapshot) !== null;
  return { ...placedAt(start, fresh.phrase, elsewhere), unfinished: isUnfinished };
}

/** A phrase of which the rest is still to come: its bars tell how much room it takes. */
function toCome({ start, phrase }: PlacedPhrase): ScorePhrase {
  return {
    revision: 0,
    name: phrase.name,
    start,
    end: start + phrase.text.length,
    heading: '',
    tempo: phrase.tempo.bpm,
    musicXml: '',
    notes: [],
    devices: [],
    bars: barsOf(phrase),
    findings: [],
    says: [],
    walkthrough: [],
    broken: null,
    unfinished: false,
  };
}

function barsOf({ bars }: Phrase): ScorePhrase['bars'] {
  return bars.map(({ number, onset, length }) => ({ number, from: onset.valueOf(), to: onset.add(length).valueOf() }));
}

/** What is said of a phrase: of the notes as the picture has them. */
interface Worded {
  readonly asRead: Reading;
  readonly findings: readonly ScoreFinding[];
}

/** A part that transposes reads other names than those of the text; offsets stay those of the text. */
function wordedIn(
  pitch: ScoreOptions['pitch'],
  one: { readonly snapshot: Snapshot; readonly placed: PlacedPhrase },
  findings: readonly Finding[],
  theory: TheoryOptions,
): Worded {
  const { start, phrase } = one.placed;
  const worded = new Map<string, string>();
  const key = ({ rule, start: from, end }: Finding): string => `${rule} ${from} ${end}`;
  // Where its part's reading breaks off, it is told as it sounds.
  const version =
    pitch === 'concert' || isConcert(phrase.part)
      ? null
      : guarded('the score as a part reads it', null, () => versionsOf(one, null, 'written', theory).versions[0]!);
  for (const finding of version?.findings ?? []) worded.set(key(finding), finding.message);
  return {
    asRead: version?.asRead ?? readPhrase(phrase, theory),
    findings: findings
      .map((finding) => moved(plain(finding), -start))
      .map((finding, i) => ({
        ...finding,
        message: worded.get(key({ ...findings[i]!, start: finding.start, end: finding.end })) ?? finding.message,
      })),
  };
}

/** All offsets count from the phrase's start. A part that breaks off is empty: the others stand. */
function* scoreOfReading(
  reading: Reading,
  { asRead, findings }: Worded,
  { pitch, length }: Pick<Asked, 'pitch' | 'length'>,
): Pieces<ScorePhrase> {
  const { phrase } = reading;
  yield;
  const heading = guarded('the heading of a score', '', () => phraseHeading(reading, pitch));
  const devices = guarded('the devices of a score', [], () => pictureDevices(reading));
  yield;
  const musicXml = guarded('the notation of a score', '', () =>
    writeMusicXml([reading], phrase.name, { pitch, degrees: false, words: 'notes' }),
  );
  yield;
  const notes = yield* scoreNotes(reading, asRead, findings);
  const walkthrough = phrase.notes.length === 0 ? [] : walkthroughParagraphs(asRead, length);
  yield;
  revisions += 1;
  return {
    revision: revisions,
    name: phrase.name,
    start: 0,
    end: phrase.text.length,
    heading,
    tempo: phrase.tempo.bpm,
    musicXml,
    notes,
    devices,
    bars: barsOf(phrase),
    findings: findings.filter(({ severity }) => severity === 'warning' || severity === 'error'),
    says: asRead.phrase.says,
    walkthrough,
    broken: findings.find(({ severity, start }) => severity === 'error' && breaksMusic(phrase, start)) ?? null,
    unfinished: false,
  };
}

function placedAt(start: number, phrase: ScorePhrase, elsewhere: ScoreFinding | null): ScorePhrase {
  return {
    ...phrase,
    start,
    end: phrase.end + start,
    notes: phrase.notes.map((note) => ({ ...moved(note, start), holds: note.holds.map((hold) => moved(hold, start)) })),
    findings: phrase.findings.map((finding) => moved(finding, start)),
    broken: phrase.broken === null ? elsewhere : moved(phrase.broken, start),
  };
}

function moved<T extends { readonly start: number; readonly end: number }>(place: T, by: number): T {
  return { ...place, start: place.start + by, end: place.end + by };
}

function plain({ severity, message, about, start, end }: Finding): ScoreFinding {
  return { severity, message, note: about?.note ?? null, start, end };
}

/** The first error of a definition that the phrase uses: what cannot be read there is missing here. */
function brokenDefinition(phrase: Phrase, all: readonly Finding[], { slices, definitions }: Snapshot): ScoreFinding | null {
  const used = new Set([
    ...phrase.spans.flatMap(({ definition }) => (definition === null ? [] : [definitions.changes.get(definition.name)])),
    ...phrase.groups.flatMap(({ cell }) => (cell === null ? [] : [definitions.cells.get(cell)])),
  ]);
  if (used.size === 0) return null;
  const places = slices.filter(({ parsed: { item } }) => (item.kind === 'changes' || item.kind === 'cell') && used.has(item));
  const error = all.find(
    ({ severity, start }) =>
      severity === 'error' && places.some((place) => start >= place.start && start < place.start + place.parsed.text.length),
  );
  return error === undefined ? null : plain(error);
}
