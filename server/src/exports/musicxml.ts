/** A lesson's phrases as MusicXML 4.0 (W3C): one part, one phrase after another, each with its clef, key and meter. */
import type { Fraction } from '../model/fraction';
import { fifthsOf } from '../theory/key';
import { homeKey } from '../analysis/keys';
import { shownFigure } from '../analysis/shown-figure';
import type { Reading } from '../analysis/types';
import { groupedBy } from '../model/grouped';
import { earlier, lastNotAfter, leastMultiple, startingIn } from '../model/time';
import type { Bar, Note, Phrase, PlacedGroup } from '../model/types';
import { transposeName, transposePitch, type Shift } from '../theory/interval';
import { writable } from '../theory/pitch';
import type { Key, NoteName, Part, Pitch } from '../theory/types';
import { plainly, type Each } from './each';
import { beamsOf, flagsOf, type BeamValue } from './beams';
import { harmonyElement } from './harmony';
import { parted, tupletOf, valuesOf, type NoteValue, type Tuplet } from './note-values';
import { placedRemarks, type PlacedRemarks, type Remark } from './remarks';
import { element, writeXml, type XmlElement } from './xml';

export interface MusicXmlOptions {
  /** `written`: as the part reads it, with its transposition; `concert`: as it sounds. */
  readonly pitch: 'written' | 'concert';
  /** Degrees under the notes. */
  readonly degrees: boolean;
  /** `sheet`: names, tempo and chord symbols in full; `notes`: without the words that whoever shows the score says beside it. */
  readonly words: 'sheet' | 'notes';
  /** Into another key: how far, in sound. Left out: as the phrase stands. */
  readonly moved?: Shift;
  /** `blank`: as much room as the line takes, with nothing in it. Left out: the line. */
  readonly line?: 'blank';
  /** What is said of each phrase, as directions at its notes. Left out: nothing. */
  readonly remarks?: readonly (readonly Remark[])[];
}

/** A document with these phrases. Notes are called `n-P-N` (the Nth note of the Pth phrase; its tied parts `n-P-N-2` …), chords `h-P-S`. */
export function writeMusicXml(readings: readonly Reading[], title: string, options: MusicXmlOptions, each: Each = plainly): string {
  const measures = readings.flatMap(
    (reading, index) =>
      each(reading.phrase, () => {
        const page = pageOf(reading, index, options, readings[index - 1]?.phrase.part ?? null);
        return reading.phrase.bars.map((bar, i) => measureElement(page, bar, i === 0));
      }) ?? [],
  );
  return writeXml(
    element(
      'score-partwise',
      { version: '4.0' },
      element('work', {}, element('work-title', {}, title)),
      element('part-list', {}, element('score-part', { id: 'P1' }, partName(readings[0]?.phrase, options))),
      element('part', { id: 'P1' }, measures.length > 0 ? measures : element('measure', { number: 1 })),
    ),
  );
}

/** The schema asks for the element; where the part is concert it is empty, so that no reader prints a name. */
function partName(phrase: Phrase | undefined, { words }: MusicXmlOptions): XmlElement {
  if (phrase === undefined || phrase.part.name === 'concert') return element('part-name', { 'print-object': 'no' });
  return element('part-name', { 'print-object': words === 'sheet' ? null : 'no' }, phrase.part.label);
}

/** Where a phrase is for another part than the one before it. */
function newPartName({
  reading: {
    phrase: { part },
  },
  partBefore,
}: Page): XmlElement | null {
  if (partBefore === null || part.name === partBefore.name) return null;
  return part.name === 'concert'
    ? element('part-name-display', { 'print-object': 'no' })
    : element('part-name-display', {}, element('display-text', {}, part.label));
}

/** One phrase and how it is written. */
interface Page {
  readonly reading: Reading;
  readonly index: number;
  readonly options: MusicXmlOptions;
  /** Divisions of a quarter. */
  readonly divisions: number;
  readonly moved: { readonly name: (name: NoteName) => NoteName; readonly pitch: (pitch: Pitch) => Pitch };
  readonly fifths: number;
  /** Letters by which the page is spelled above (or below) the part's own transposition. */
  readonly respelled: number;
  readonly remarks: PlacedRemarks;
  /** That of the phrase before. */
  readonly partBefore: Part | null;
}

/** The key a phrase is written in for its part; null where it names none. */
export function keyAsWritten(reading: Reading, options: MusicXmlOptions): Key | null {
  return movedKey(reading.phrase.key, pageShift(reading, options));
}

/** Of no key: none. */
function fifthsIn(key: Key | null): number {
  return key === null ? 0 : fifthsOf(key);
}

function movedKey(key: Key | null, shift: Shift): Key | null {
  return key === null ? null : { ...key, tonic: transposeName(key.tonic, shift) };
}

const MOST_ACCIDENTALS = 7;

/**
 * How a phrase is moved on the page, from its sound. A key that is moved is written with the fewest accidentals, with flats on a tie, the whole phrase with it;
 * where the phrase names no key, the one that its chords tell decides. A key that stays where it is stays as its writer spelled it.
 */
export function pageShift(reading: Reading, options: MusicXmlOptions): Shift {
  const shift = plainShift(reading.phrase, options);
  const key = homeKey(reading);
  if (key === null) return shift;
  // In fifths, for these say what a key signature holds: a half step up is seven of them, a letter up twelve back.
  const accidentals = ({ diatonic, chromatic }: Shift): number => Math.abs(fifthsOf(key) + 7 * chromatic - 12 * diatonic);
  if (shift.diatonic % 7 === 0 && shift.chromatic % 12 === 0 && accidentals(shift) <= MOST_ACCIDENTALS) return shift;
  const [flatter, sharper] = [1, -1].map((letters): Shift => ({ ...shift, diatonic: shift.diatonic + letters }));
  return [flatter!, shift, sharper!].reduce((best, one) => (accidentals(one) < accidentals(best) ? one : best));
}

/** The same with each letter of the part's transposition kept. */
function plainShift(phrase: Phrase, options: MusicXmlOptions): Shift {
  const { diatonic, chromatic } = writtenShift(phrase, options);
  return { diatonic: diatonic + (options.moved?.diatonic ?? 0), chromatic: chromatic + (options.moved?.chromatic ?? 0) };
}

function pageOf(reading: Reading, index: number, options: MusicXmlOptions, partBefore: Part | null): Page {
  const { phrase } = reading;
  const shift = pageShift(reading, options);
  const times = [
    ...phrase.groups.flatMap(({ slots }) => slots.flatMap(({ onset, duration }) => [onset, onset.add(duration)])),
    ...phrase.bars.map(({ onset }) => onset),
    ...phrase.bars.map(({ length }) => length),
    ...phrase.spans.map(({ onset }) => onset),
  ];
  return {
    reading,
    index,
    options,
    partBefore,
    divisions: times.reduce((all, time) => leastMultiple(all, Number(time.d)), 1),
    moved: { name: (name) => transposeName(name, shift), pitch: (pitch) => writable(transposePitch(pitch, shift)) },
    fifths: fifthsIn(movedKey(phrase.key, shift)),
    respelled: shift.diatonic - plainShift(phrase, options).diatonic,
    remarks: placedRemarks(options.remarks?.[index] ?? []),
  };
}

/** From sounding to written: the way back of the part's transposition. */
function writtenShift({ part }: Phrase, { pitch }: MusicXmlOptions): Shift {
  if (pitch === 'concert') return { diatonic: 0, chromatic: 0 };
  const { diatonic, chromatic, octaves } = part.transpose;
  return { diatonic: -diatonic - 7 * octaves, chromatic: -chromatic - 12 * octaves };
}

// ── Measures ───────────────────────────────────────────────────────────────────────────────────────────────────────────────

function measureElement(page: Page, bar: Bar, isFirst: boolean): XmlElement {
  const { phrase } = page.reading;
  const before = phrase.bars[phrase.bars.indexOf(bar) - 1];
  const attributes = isFirst
    ? firstAttributes(page, bar)
    : before !== undefined && before.meter !== bar.meter
      ? element('attributes', {}, timeElement(bar))
      : null;
  // A tempo counts felt beats: where these change their length, it has to be said anew, or a reader would keep the quarters as they were.
  const newBeat = before !== undefined && !before.meter.beat.equals(bar.meter.beat);
  const isLast = phrase.bars[phrase.bars.length - 1] === bar;
  // Bars are numbered from 1 in each phrase, as in its text; there is one part, so nobody has to find those of another part by them.
  return element(
    'measure',
    { number: bar.number, implicit: bar.number === 0 ? 'yes' : null },
    isFirst && page.index > 0 ? element('print', { 'new-system': 'yes' }, newPartName(page)) : null,
    attributes,
    page.options.words !== 'sheet' ? null : isFirst ? openingDirections(page) : newBeat ? tempoDirection(page, bar) : null,
    isFirst ? page.remarks.opening : null,
    contentOf(page, bar),
    isLast ? element('barline', { location: 'right' }, element('bar-style', {}, 'light-light')) : null,
  );
}

function firstAttributes({ reading: { phrase }, options, divisions, fifths, respelled }: Page, bar: Bar): XmlElement {
  const { part, key } = phrase;
  const { chromatic, octaves } = part.transpose;
  // As many letters as lead back to the concert spelling: Db for a B-flat instrument is B in concert, two letters down.
  const diatonic = part.transpose.diatonic - respelled;
  const transposes = options.pitch === 'written' && (diatonic !== 0 || chromatic !== 0 || octaves !== 0);
  return element(
    'attributes',
    {},
    element('divisions', {}, divisions),
    element('key', {}, element('fifths', {}, fifths), key === null ? null : element('mode', {}, key.mode)),
    timeElement(bar),
    element('clef', {}, element('sign', {}, part.clef), element('line', {}, part.clef === 'G' ? 2 : 4)),
    // Zeros are said too: the phrase before may have been for a transposing part.
    options.pitch === 'written'
      ? element(
          'transpose',
          {},
          element('diatonic', {}, diatonic),
          element('chromatic', {}, chromatic),
          transposes && octaves !== 0 ? element('octave-change', {}, octaves) : null,
        )
      : null,
  );
}

function timeElement({ meter }: Bar): XmlElement {
  return element('time', {}, element('beats', {}, meter.beats), element('beat-type', {}, meter.unit));
}

/** Before the phrase's number, the id of the words that are its name: the import knows it too (`imports/directions.ts`), and needs no more of the exports. */
const NAME_ID = 'phrase-name-';

/** The phrase's name, its tempo and its feel. */
function openingDirections(page: Page): XmlElement[] {
  const { phrase } = page.reading;
  const [first] = phrase.bars;
  // By its id our import knows it for a name, be it “Coda” or “Slow ferry”.
  const name = element(
    'direction',
    { placement: 'above', id: `${NAME_ID}${page.index + 1}` },
    element('direction-type', {}, element('words', { 'font-weight': 'bold' }, phrase.name)),
  );
  const tempo = tempoDirection(page, first!);
  if (tempo === null) return [name];
  const swings = phrase.tempo.feel === 'swing' && !first!.meter.compound;
  return [
    name,
    tempo,
    ...(swings
      ? [element('direction', { placement: 'above' }, element('direction-type', {}, element('words', { 'font-style': 'italic' }, 'swing')))]
      : []),
  ];
}

/** The tempo in beats as felt in a bar, and in quarters for whoever plays it. */
function tempoDirection({ reading: { phrase } }: Page, { meter: { beat } }: Bar): XmlElement | null {
  const { bpm } = phrase.tempo;
  const [value] = valuesOf(beat) ?? [];
  if (value === undefined) return null;
  const unit = [element('beat-unit', {}, value.type), ...(value.dots === 1 ? [element('beat-unit-dot')] : [])];
  return element(
    'direction',
    { placement: 'above' },
    element('direction-type', {}, element('metronome', {}, unit, element('per-minute', {}, bpm))),
    element('sound', { tempo: bpm * Number(beat.valueOf()) }),
  );
}

// ── Notes ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** A stretch of one note, or of silence, written as one note value. */
export interface Piece {
  readonly onset: Fraction;
  readonly length: Fraction;
  readonly value: NoteValue;
  readonly tuplet: Tuplet | null;
  /** First and last of its tuplet. */
  readonly edge: 'start' | 'stop' | 'both' | null;
  readonly note: Note | null;
}

function contentOf(page: Page, bar: Bar): XmlElement[] {
  const { phrase } = page.reading;
  const pieces = piecesOf(phrase, bar);
  const end = bar.onset.add(bar.length);
  const alters = new Map<string, number>();
  const parts = new Map<number, number>();
  for (const piece of earlierPieces(phrase, bar))
    if (piece.note !== null) parts.set(piece.note.index, (parts.get(piece.note.index) ?? 0) + 1);
  const spans = bar.number > 0 ? startingIn(phrase.spans, bar.onset, end) : [];
  const placed = new Set<number>();
  const harmonies = (from: Fraction, to: Fraction): XmlElement[] =>
    spans
      .filter(({ onset, index }) => !placed.has(index) && onset.compare(from) >= 0 && onset.compare(to) < 0)
      .map((span) => {
        placed.add(span.index);
        return harmonyElement(span, `h-${page.index}-${span.index}`, inDivisions(span.onset.sub(from), page), page);
      });
  const beams = beamsOf(
    pieces.map(({ onset, value, note }) => ({ onset, flags: flagsOf(value.type), isRest: note === null })),
    bar.onset,
    bar.meter,
  );
  return pieces.flatMap((piece, i) => {
    const part = piece.note === null ? 0 : (parts.get(piece.note.index) ?? 0) + 1;
    if (piece.note !== null) parts.set(piece.note.index, part);
    if (page.options.line === 'blank') return [...harmonies(piece.onset, piece.onset.add(piece.length)), blankElement(page, piece)];
    const { before, after } = piece.note === null ? NOTHING : page.remarks.at(piece.note.index, part, piece);
    return [
      ...harmonies(piece.onset, piece.onset.add(piece.length)),
      ...before,
      noteElement(page, piece, { part, beams: beams[i]!, isBeamed: isBeamedTuplet(pieces, beams, i) }, alters),
      ...after,
    ];
  });
}

const NOTHING = { before: [], after: [] } as const;

/** Whether a beam joins just the notes of the tuplet that starts at a piece: that shows it as well as a bracket does. */
function isBeamedTuplet(all: readonly Piece[], beams: readonly (readonly BeamValue[])[], start: number): boolean {
  if (all[start]!.edge !== 'start') return false;
  const length = all.slice(start).findIndex(({ edge }) => edge === 'stop') + 1;
  const outer = beams.slice(start, start + length).map(([first]) => first);
  return outer.every((beam, i) => beam === (i === 0 ? 'begin' : i === length - 1 ? 'end' : 'continue'));
}

/** What was written of the line before a bar: tied notes go on counting their parts. */
function earlierPieces(phrase: Phrase, bar: Bar): Piece[] {
  // A line has one note at a time: the one that sounded last before the bar.
  const last = lastNotAfter(phrase.notes, bar.onset);
  const held = [phrase.notes[last], phrase.notes[last - 1]].find(
    (note) => note !== undefined && note.onset.compare(bar.onset) < 0 && note.onset.add(note.duration).compare(bar.onset) > 0,
  );
  if (held === undefined) return [];
  return phrase.bars
    .slice(lastNotAfter(phrase.bars, held.onset), lastNotAfter(phrase.bars, bar.onset))
    .flatMap((one) => piecesOf(phrase, one))
    .filter(({ note }) => note === held);
}

function inDivisions(length: Fraction, { divisions }: Page): number {
  return Number(length.mul(divisions).valueOf());
}

/** The bar cut into note values: tuplets stay in their groups, plain stretches are joined and parted as engravers do. */
export function piecesOf(phrase: Phrase, bar: Bar): Piece[] {
  const end = bar.onset.add(bar.length);
  const stretches: { from: Fraction; to: Fraction; note: Note | null; within: Within | null }[] = [];
  const add = (from: Fraction, to: Fraction, note: Note | null, within: Within | null): void => {
    const last = stretches[stretches.length - 1];
    const goesOn =
      last !== undefined &&
      last.to.equals(from) &&
      last.within === within &&
      last.note === note &&
      (note === null || !note.onset.equals(from));
    if (goesOn) last.to = to;
    else if (to.compare(from) > 0) stretches.push({ from, to, note, within });
  };
  let at = bar.onset;
  for (const group of groupsIn(phrase).get(bar.number) ?? []) {
    if (group.onset.compare(at) > 0) add(at, group.onset, null, null);
    const tuplet = tupletOf(group);
    const within = tuplet === null ? null : { group, tuplet };
    for (const slot of group.slots) {
      const from = slot.onset;
      const to = earlier(slot.onset.add(slot.duration), end);
      add(from, to, slot.note === null ? null : phrase.notes[slot.note]!, within);
    }
    at = earlier(group.onset.add(group.duration), end);
  }
  if (at.compare(end) < 0) add(at, end, null, null);
  return stretches.flatMap(({ from, to, note, within }) =>
    within === null ? plainPieces(from, to, note, bar) : tupletPieces(from, to, note, within),
  );
}

/** A group whose slots stand in a tuplet. */
interface Within {
  readonly group: PlacedGroup;
  readonly tuplet: Tuplet;
}

const groupsByBar = new WeakMap<Phrase, ReadonlyMap<number, readonly PlacedGroup[]>>();

/** The groups of each bar, by its number: looked for once a phrase, which may have thousands of bars. */
function groupsIn(phrase: Phrase): ReadonlyMap<number, readonly PlacedGroup[]> {
  const known = groupsByBar.get(phrase) ?? groupedBy(phrase.groups, ({ bar }) => [bar]);
  groupsByBar.set(phrase, known);
  return known;
}

function plainPieces(from: Fraction, to: Fraction, note: Note | null, bar: Bar): Piece[] {
  const cuts = parted(from, to, bar.onset, bar.meter);
  return cuts.slice(1).flatMap((cut, i) => pieces(cuts[i]!, cut.sub(cuts[i]!), null, note));
}

function pieces(onset: Fraction, written: Fraction, tuplet: Tuplet | null, note: Note | null): Piece[] {
  let at = onset;
  return (valuesOf(written) ?? []).map((value) => {
    const length = tuplet === null ? value.length : value.length.mul(tuplet.normal).div(tuplet.actual);
    const piece: Piece = { onset: at, length, value, tuplet, edge: null, note };
    at = at.add(length);
    return piece;
  });
}

function tupletPieces(from: Fraction, to: Fraction, note: Note | null, { group, tuplet }: Within): Piece[] {
  const own = pieces(from, to.sub(from).mul(tuplet.actual).div(tuplet.normal), tuplet, note);
  const end = group.onset.add(group.duration);
  return own.map((piece) => {
    const starts = piece.onset.equals(group.onset);
    const stops = piece.onset.add(piece.length).equals(end);
    return { ...piece, edge: starts && stops ? 'both' : starts ? 'start' : stops ? 'stop' : null };
  });
}

/** Silence that is not printed. */
function blankElement(page: Page, { length, value, tuplet, edge }: Piece): XmlElement {
  const tuplets = [
    ...(edge === 'start' || edge === 'both' ? [element('tuplet', { type: 'start', bracket: 'no', 'show-number': 'none' })] : []),
    ...(edge === 'stop' || edge === 'both' ? [element('tuplet', { type: 'stop' })] : []),
  ];
  return element(
    'note',
    { 'print-object': 'no' },
    element('rest'),
    element('duration', {}, inDivisions(length, page)),
    element('voice', {}, 1),
    element('type', {}, value.type),
    value.dots === 1 ? element('dot') : null,
    tuplet === null
      ? null
      : element('time-modification', {}, element('actual-notes', {}, tuplet.actual), element('normal-notes', {}, tuplet.normal)),
    tuplets.length === 0 ? null : element('notations', {}, tuplets),
  );
}

const ACCIDENTALS: Readonly<Record<string, string>> = { '-2': 'flat-flat', '-1': 'flat', 0: 'natural', 1: 'sharp', 2: 'double-sharp' };

/** One note or rest; `part` counts the tied parts of a note from 1. */
function noteElement(
  page: Page,
  { onset, length, value, tuplet, edge, note }: Piece,
  { part, beams, isBeamed }: { readonly part: number; readonly beams: readonly BeamValue[]; readonly isBeamed: boolean },
  alters: Map<string, number>,
): XmlElement {
  const pitch = note === null ? null : page.moved.pitch(note.pitch);
  const ends = note === null || note.onset.add(note.duration).equals(onset.add(length));
  const starts = part === 1;
  const ties = note === null ? [] : [...(starts ? [] : ['stop']), ...(ends ? [] : ['start'])];
  const placement = note === null ? null : (page.reading.notes[note.index]!.placement ?? null);
  const marks =
    note === null || !starts
      ? []
      : [
          ...(note.marks.includes('accent') ? [element('accent')] : []),
          ...(note.marks.includes('short-accent') ? [element('strong-accent')] : []),
        ];
  const notations = [
    ...ties.map((type) => element('tied', { type })),
    ...(edge === 'start' || edge === 'both' ? [element('tuplet', { type: 'start', bracket: isBeamed ? 'no' : 'yes' })] : []),
    ...(edge === 'stop' || edge === 'both' ? [element('tuplet', { type: 'stop' })] : []),
    ...(marks.length > 0 ? [element('articulations', {}, marks)] : []),
  ];
  return element(
    'note',
    { id: note === null ? null : `n-${page.index}-${note.index}${starts ? '' : `-${part}`}` },
    pitch === null
      ? element('rest')
      : element(
          'pitch',
          {},
          element('step', {}, pitch.letter),
          pitch.alter === 0 ? null : element('alter', {}, pitch.alter),
          element('octave', {}, pitch.octave),
        ),
    element('duration', {}, inDivisions(length, page)),
    ties.map((type) => element('tie', { type })),
    element('voice', {}, 1),
    element('type', {}, value.type),
    value.dots === 1 ? element('dot') : null,
    pitch === null ? null : accidentalElement(page, pitch, starts, alters),
    tuplet === null
      ? null
      : element('time-modification', {}, element('actual-notes', {}, tuplet.actual), element('normal-notes', {}, tuplet.normal)),
    note !== null && note.marks.includes('ghost') ? element('notehead', { parentheses: 'yes' }, 'normal') : null,
    beams.map((beam, level) => element('beam', { number: level + 1 }, beam)),
    notations.length === 0 ? null : element('notations', {}, notations),
    page.options.degrees && starts && placement !== null
      ? element('lyric', {}, element('syllabic', {}, 'single'), element('text', {}, shownFigure(page.reading, placement)))
      : null,
  );
}

const ORDER = { sharp: 'FCGDAEB', flat: 'BEADGCF' } as const;

/** In engraved notation an accidental stays to the end of its bar; one is written where it or the key says otherwise. */
function accidentalElement({ fifths }: Page, pitch: Pitch, starts: boolean, alters: Map<string, number>): XmlElement | null {
  const inKey = ORDER.sharp.slice(0, Math.max(0, fifths)).includes(pitch.letter)
    ? 1
    : ORDER.flat.slice(0, Math.max(0, -fifths)).includes(pitch.letter)
      ? -1
      : 0;
  const place = `${pitch.letter}${pitch.octave}`;
  const current = alters.get(place) ?? inKey;
  if (!starts) return null;
  alters.set(place, pitch.alter);
  return current === pitch.alter ? null : element('accidental', {}, ACCIDENTALS[String(pitch.alter)]!);
}
