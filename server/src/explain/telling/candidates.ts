/** The stretches that a phrase may be told in, each with what it explains. */
import { ADDED } from '../../analysis/devices/bebop-line';
import type { Device } from '../../analysis/devices/device';
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { isHalfStep, isLeap } from '../../analysis/vocabulary';
import { chroma, soundClass } from '../../theory/pitch';
import type { Scale } from '../../theory/types';
import { wordsOf } from '../device-words';
import { FEWEST_IN_SCALE, isToldOfAll } from '../whole-scale';
import { isOfTwoScales } from './altered-run';
import { breathAfter } from './breath';
import { heldChords, heldPairs } from './held-chord';
import { isHeard, isOfFigures, isToldAtOnce } from './sequences';
import { HALF_STEPS, isAstray, isFlagged, notesIn, turnsBefore, type Stretch } from './stretch';

export type Candidate = Stretch & { readonly score: number };

/** What a stretch costs: two short ones must explain more than one long one. */
const COST = 0.9;
const LONGEST = 24;
/** What it costs to begin or end on a chromatic note that leads elsewhere, to number a note that a finding tells, and a run to begin with a note or two over the chord before. */
const ASTRAY = 0.8;
const FLAGGED = 3;
const BEFORE_CHORD = 0.4;
/** What the notes of a bebop scale that no longer run on from the note that it adds are explained by it: after a turn, and after a leap. */
const AFTER_TURN = 0.9;
const AFTER_LEAP = 0.5;
/** What it is worth that two notes go on from a peak or a low point. */
const FROM_PEAK = 0.5;
/** Notes of a sequence that is heard no more than what else they are. */
const FEW_STATED = 6;

/** Devices that are told by the figures of their notes. */
export const FIGURED: ReadonlySet<string> = new Set(['arpeggio', 'triplet-arpeggio', 'cell', 'upper-structure', 'superimposed-arpeggio']);

/** Devices whose parts are of the same kind may be told in part: the last note of one is often the first of another. */
const DIVISIBLE: ReadonlySet<string> = new Set(['arpeggio', 'scale-run', 'chromatic-run', 'pentatonic-line', 'blues-line', 'bebop-line']);
const LEAST: Readonly<Record<string, number>> = {
  arpeggio: 3,
  'scale-run': 4,
  'chromatic-run': 3,
  'pentatonic-line': 7,
  'blues-line': 5,
  'bebop-line': 5,
};

/** Lines that a few notes make by chance, and that nobody hears begin within a beat. */
const BY_CHANCE: ReadonlySet<string> = new Set(['pentatonic-line', 'superimposed-pentatonic']);

const FEWEST_OVER_CHANGES = 8;

function begins(reading: Reading, note: number): boolean {
  const places = placesOf(reading.phrase, reading.context);
  return note === 0 || breathAfter(reading, note - 1) || places.isOnBeat(reading.phrase.notes[note]!.onset);
}

export function deviceCandidates(reading: Reading): Candidate[] {
  // Over changes most bars stay in some pentatonic scale.
  const fewest = reading.context.vamp || reading.context.blues !== null ? FEWEST_IN_SCALE : FEWEST_OVER_CHANGES;
  const held = new Set(heldChords(reading).map(({ from }) => from));
  return devicesOf(reading)
    .flatMap((device) => (device.kind === 'bebop-line' ? (withoutLeaps(reading, device) ?? []) : device))
    .flatMap((device) => {
      const { stretch } = wordsOf(device.kind);
      const isClosed = device.to - device.from + 1 === device.notes.length;
      if (device.kind === 'enclosure' && isOfFigures(reading, device)) return [];
      if (device.kind === 'sequence' && !(isToldAtOnce(reading, device) && isHeard(reading, device))) return [];
      if ((device.scale !== undefined && isToldOfAll(reading, device.scale)) || stretch === 0 || !isClosed) return [];
      if (device.kind === 'cell' && (goesOnByStep(reading, device) || endsClimb(reading, device))) return [];
      if (device.kind === 'scale-run' && isOfTwoScales(reading, device)) return [];
      // A triplet of which the arpeggio goes on is a part of that.
      if (
        device.kind === 'triplet-arpeggio' &&
        devicesAt(reading, device.from).some(
          ({ kind, from, to }) => (kind === 'arpeggio' || kind === 'cell') && from === device.from && to === device.to + 1,
        )
      )
        return [];
      // A few notes of a blues scale, cut from two bars, are heard as parts of those.
      if (
        device.kind === 'blues-line' &&
        device.notes.length < FEWEST_IN_SCALE &&
        reading.phrase.notes[device.from]!.bar !== reading.phrase.notes[device.to]!.bar
      )
        return [];
      // A note that a finding tells is no part of a figure.
      if ((FIGURED.has(device.kind) || device.kind === 'enclosure') && device.notes.some((note) => isFlagged(reading, note))) return [];
      if (BY_CHANCE.has(device.kind) && (device.notes.length < fewest || !begins(reading, device.from))) return [];
      const end = device.target === device.to + 1 ? device.target : device.to;
      const { turn, leap } = device.kind === 'bebop-line' ? endsOfBebop(reading, device) : { turn: end, leap: end };
      const make = (from: number, to: number, share: number): Candidate => ({
        from,
        to,
        as: 'device',
        device,
        repeat: null,
        score:
          stretch * share * (Math.min(to, turn) - from + 1) +
          AFTER_TURN * Math.max(0, Math.min(to, leap) - turn) +
          AFTER_LEAP * Math.max(0, to - leap) -
          COST -
          (device.kind === 'scale-run' && beginsBeforeChord(reading, from) ? BEFORE_CHORD : 0) +
          (from === device.from && endsInEnclosure(reading, device, to) ? WHOLE_CHORD : 0),
      });
      // What ends on the first note of a chord that is held stops short of it, and is told to lead there all the same.
      const all = [
        make(device.from, end, device.kind === 'sequence' && device.notes.length <= FEW_STATED ? 0.8 : 1),
        ...(end > device.to ? [make(device.from, device.to, held.has(end) ? 1 + 1 / device.notes.length : 0.97)] : []),
      ];
      if (!DIVISIBLE.has(device.kind)) return all;
      const parts: Candidate[] = [];
      for (let from = device.from; from <= Math.min(device.from + 2, end); from += 1)
        for (let to = Math.max(end - 2, from); to <= end; to += 1)
          if (to - from + 1 >= LEAST[device.kind]! && (from > device.from || to < end) && holdsAdded(reading, device, from, to))
            parts.push(make(from, to, 0.95));
      for (const to of new Set([leap, leap - 1, turn, turn - 1]))
        if (device.kind === 'bebop-line' && to < end && to - device.from + 1 >= LEAST['bebop-line']!) parts.push(make(device.from, to, 1));
      const before = device.kind === 'chromatic-run' ? beforeBebop(reading, device) : null;
      if (before !== null) parts.push({ ...make(device.from, before.to, 1), device: before });
      return [...all, ...parts];
    });
}

/** A bebop scale as far as it goes by step: the arpeggio before it, or after it, is told as that; null where too little of it is left. */
function withoutLeaps(reading: Reading, device: Device): Device | null {
  const { notes } = device;
  const first = notes.findIndex((note, i) => isByStep(reading, note, notes[i + 1]));
  const last = notes.findLastIndex((note, i) => isByStep(reading, notes[i - 1], note));
  const own = notes.slice(first, last + 1);
  return own.length < LEAST['bebop-line']! ? null : { ...device, notes: own, from: own[0]!, to: own[own.length - 1]! };
}

function isByStep({ phrase }: Reading, one: number | undefined, other: number | undefined): boolean {
  return one !== undefined && other !== undefined && !isLeap(phrase.notes[one]!, phrase.notes[other]!);
}

/** How far a bebop scale goes on after the last note that it adds: to the note on which it turns, and by step from there. */
function endsOfBebop(reading: Reading, { notes, scale }: Device): { readonly turn: number; readonly leap: number } {
  const written = reading.phrase.notes;
  const way = (i: number): number => Math.sign(written[notes[i + 1]!]!.midi - written[notes[i]!]!.midi);
  const added = notes.findLastIndex((note, i) => i < notes.length - 1 && isAdded(reading, note, scale!));
  let turn = added + 1;
  while (isByStep(reading, notes[turn], notes[turn + 1]) && way(turn) === way(added)) turn += 1;
  let leap = turn;
  while (isByStep(reading, notes[leap], notes[leap + 1])) leap += 1;
  return { turn: notes[turn]!, leap: notes[leap]! };
}

function isAdded({ phrase }: Reading, note: number, { root, name }: Scale): boolean {
  return soundClass(chroma(phrase.notes[note]!.pitch) - chroma(root)) === ADDED[name];
}

/** Whether a part of a bebop scale goes to the note that the scale adds: without it nobody hears that scale. */
function holdsAdded(reading: Reading, { kind, scale }: Device, from: number, to: number): boolean {
  return kind !== 'bebop-line' || notesIn({ from: from + 1, to }).some((note) => isAdded(reading, note, scale!));
}

/** Whether a bebop scale begins with a note, as far as it goes by step. */
export function beginsBebop(reading: Reading, note: number): boolean {
  return devicesAt(reading, note).some((device) => device.kind === 'bebop-line' && withoutLeaps(reading, device)?.from === note);
}

/** Half steps into the first note of a bebop scale, as far as that. */
function beforeBebop(reading: Reading, device: Device): Device | null {
  const begins = device.notes.slice(2).find((note) => beginsBebop(reading, note)) ?? null;
  const notes = device.notes.filter((note) => begins !== null && note < begins);
  return notes.length < 2 ? null : { ...device, notes, to: notes[notes.length - 1]!, target: begins };
}

function beginsBeforeChord({ notes }: Reading, from: number): boolean {
  const spans = [from, from + 1, from + 2].map((note) => notes[note]?.placement?.span);
  return spans[0] !== spans[1] || spans[0] !== spans[2];
}

/** A figure of steps that goes on where the line went before is a part of a scale. */
function goesOnByStep({ phrase }: Reading, { notes, from }: Device): boolean {
  const all = [from - 1, ...notes].map((note) => phrase.notes[note]);
  const sizes = all.slice(1).map((note, i) => (all[i] === undefined ? 0 : note!.midi - all[i].midi));
  return sizes.every((size) => Math.abs(size) <= 2 && size !== 0 && Math.sign(size) === Math.sign(sizes[1]!));
}

/** A cell that turns back, of which the first two notes end a row of four chord tones up or down from a beat on: G-Bb-C-E over C7, then D-C. That row is heard. */
function endsClimb(reading: Reading, { notes: own, from }: Device): boolean {
  const { phrase, notes } = reading;
  const row = [from - 2, from - 1, from, from + 1];
  const written = row.map((note) => phrase.notes[note]);
  const isOfChord = row.every(
    (note) => notes[note]?.placement?.role === 'chord-tone' && notes[note].placement.span === notes[from]!.placement?.span,
  );
  if (
    !isOfChord ||
    written[0]!.bar !== written[3]!.bar ||
    !begins(reading, from - 2) ||
    breathAfter(reading, from - 2) ||
    breathAfter(reading, from - 1)
  )
    return false;
  const isOneWay = (line: readonly number[]): boolean =>
    new Set(line.slice(1).map((note, i) => Math.sign(phrase.notes[note]!.midi - phrase.notes[line[i]!]!.midi))).size === 1;
  return isOneWay(row) && !isOneWay(own);
}

/** What it is worth that an arpeggio is told up to its seventh, though that begins an enclosure: the enclosure is told beside it. */
const WHOLE_CHORD = 3;

/** Whether an arpeggio of a seventh chord ends with the first of two notes that enclose the next chord's: D-F-A-C, of which C goes with A round B. */
function endsInEnclosure(reading: Reading, { kind, from }: Device, to: number): boolean {
  if (kind !== 'arpeggio' || to - from + 1 !== CHORD_TONES) return false;
  const numbers = notesIn({ from, to }).map((note) => reading.notes[note]!.placement?.called.number);
  return (
    ([1, 3, 5, 7] as const).every((number) => numbers.includes(number)) &&
    devicesAt(reading, to).some(({ kind: other, from: start, notes }) => other === 'enclosure' && start === to && notes.length === 2)
  );
}

/** What each of the notes of a seventh chord is explained by that. */
const OF_CHORD = 1;
const CHORD_TONES = 4;

/** Whether notes are the four of a seventh chord from a beat on, all that go one way, of which the last two wrap what comes next: D-Bb-Ab-F before G over Bb7. */
function isWholeChord(reading: Reading, from: number, to: number): boolean {
  const { phrase, notes } = reading;
  const [before, first, second] = [phrase.notes[from - 1], phrase.notes[from]!, phrase.notes[from + 1]];
  if (
    to - from + 1 !== CHORD_TONES ||
    !begins(reading, from) ||
    !devicesAt(reading, to).some(({ kind, from: start, to: end }) => kind === 'enclosure' && start === to - 1 && end === to)
  )
    return false;
  const goesOn =
    before !== undefined &&
    notes[from - 1]!.placement?.span === notes[from]!.placement?.span &&
    !breathAfter(reading, from - 1) &&
    Math.sign(first.midi - before.midi) === Math.sign(second!.midi - first.midi);
  const figures = notesIn({ from, to })
    .map((note) => notes[note]!.placement)
    .map((placement) => (placement?.role === 'chord-tone' ? placement.called.number : 0));
  return !goesOn && [1, 3, 5, 7].every((number) => figures.some((figure) => figure === number));
}

/** Whether notes are the third, fifth, seventh and ninth of a half-diminished chord from a beat on, up or down: the ninth, flat or not, belongs to the arpeggio. */
function isRootless(reading: Reading, from: number, to: number): boolean {
  const { phrase, notes } = reading;
  const placed = notesIn({ from, to }).map((note) => notes[note]!.placement);
  const chord = placed[0] == null ? null : phrase.spans[placed[0].span]!.chord;
  if (to - from + 1 !== CHORD_TONES || chord?.family !== 'half-diminished' || !begins(reading, from)) return false;
  return (
    ['3579', '9753'].includes(placed.map((one) => one!.called.number).join('')) &&
    phrase.notes.slice(from, to).every((note, i) => isLeap(note, phrase.notes[from + i + 1]!))
  );
}

/** Chords that are held note by note: they go on through breaths. */
export function heldCandidates(reading: Reading): Candidate[] {
  return [...heldChords(reading), ...heldPairs(reading)].map(({ from, to }) => ({
    from,
    to,
    as: 'line',
    device: null,
    repeat: null,
    score: OF_CHORD * (to - from + 1) - COST,
  }));
}

/** Motion in one direction, or any notes, over one chord and within one bar. */
export function plainCandidates(reading: Reading): Candidate[] {
  const { phrase, notes } = reading;
  const found: Candidate[] = [];
  const costs = notes.map(({ note }) => (isAstray(reading, note) ? ASTRAY : 0) + (isFlagged(reading, note) ? FLAGGED : 0));
  const last = notes.length - 1;
  for (let from = 0; from <= last; from += 1) {
    let direction: number | null = null;
    let cost = costs[from]!;
    let isHalfSteps = true;
    for (let to = from; to <= Math.min(last, from + LONGEST); to += 1) {
      if (to > from) {
        const [one, other] = [phrase.notes[to - 1]!, phrase.notes[to]!];
        if (one.bar !== other.bar || notes[to - 1]!.placement?.span !== notes[to]!.placement?.span) break;
        const way = Math.sign(other.midi - one.midi);
        direction = direction === null || direction === way ? way : 0;
        cost += costs[to]!;
        isHalfSteps &&= isHalfStep(one, other);
      }
      const count = to - from + 1;
      const isLine = count >= 3 && direction !== null && direction !== 0;
      const worth = isLine && (isWholeChord(reading, from, to) || isRootless(reading, from, to)) ? OF_CHORD : isLine ? 0.7 : 0.3;
      // Two notes down from a peak are heard as three.
      const fromPeak = count === 2 && turnsBefore(reading, from) ? FROM_PEAK : 0;
      const isFree = count === 1 || (count >= HALF_STEPS && isHalfSteps);
      found.push({
        from,
        to,
        as: isLine ? 'line' : 'plain',
        device: null,
        repeat: null,
        score: worth * count - COST + fromPeak - (isFree ? 0 : cost),
      });
    }
  }
  return found;
}
