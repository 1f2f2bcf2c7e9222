/**
 * The stretches that a phrase is told in: they cover its notes one after another, each note in exactly one. Of all coverings that one is
 * taken which explains most: devices before plain motion, long ones before short ones, what ends on its target before what stops short.
 */
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import type { Device } from '../../analysis/devices/device';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { chroma } from '../../theory/pitch';
import { groupedBy } from '../../model/grouped';
import { wordsOf } from '../device-words';
import { FEWEST_IN_SCALE, wholeScale } from '../whole-scale';
import { breathAfter } from './breath';
import { isToldAnew, repeatsOf, type Repeat } from './repeats';

export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** What it is told as: a device, what a bar before it did, motion in one direction, or the notes themselves. */
  readonly as: 'device' | 'repeat' | 'line' | 'plain';
  readonly device: Device | null;
  readonly repeat: Repeat | null;
}

type Candidate = Stretch & { readonly score: number };

/** What a stretch costs: two short ones must explain more than one long one. */
const COST = 0.9;
const LONGEST = 24;
/** What it is worth that a stretch begins with a beat, where one hears it begin. */
const ON_BEAT = 0.5;
const ON_BEAT_OF_TWO = 0.35;
/** What it costs to begin between the notes that wrap a target and go on through it, and to begin or end on a chromatic note that leads elsewhere. */
const SPLIT = 0.6;
const ASTRAY = 0.8;
/** Notes of a statement of a sequence, and of all its statements, that can be told at once. */
const STATEMENT = 4;
const STATEMENTS = 16;
/** Notes of a sequence that is heard no more than what else they are. */
const FEW_STATED = 6;

/** Figures in a row that can be followed by ear: of notes one way, and of notes that go up and down. */
export const FEW = 8;
const FEW_WOVEN = 5;

export function mostFigures(as: Stretch['as']): number {
  return as === 'plain' ? FEW_WOVEN : FEW;
}

/** The notes of a stretch, by index. */
export function notesIn({ from, to }: Pick<Stretch, 'from' | 'to'>): number[] {
  return Array.from({ length: to - from + 1 }, (_, i) => from + i);
}

export function stretchesOf(reading: Reading): readonly Stretch[] {
  const breaths = reading.phrase.notes.map(({ index }) => breathAfter(reading, index));
  const isWhole = ({ from, to }: Candidate): boolean => !breaths.slice(from, to).some((is) => is);
  const ending = groupedBy([...deviceCandidates(reading), ...plainCandidates(reading)].filter(isWhole), ({ to }) => [to]);
  const places = placesOf(reading.phrase, reading.context);
  const targets = new Map(devicesOf(reading).filter(({ kind }) => kind === 'enclosure').flatMap(({ notes, target }) => notes.slice(1).map((note) => [note, target])));
  const starts = reading.phrase.notes.map(({ index, onset }): Start => ({ onBeat: places.isOnBeat(onset), target: targets.get(index) ?? null }));
  const found: Stretch[] = [];
  let from = 0;
  // A line that is told by its scale goes on through what only begins like another bar.
  const inScale = devicesOf(reading).filter(({ kind, notes }) => IN_SCALE.has(kind) && notes.length >= FEWEST_IN_SCALE);
  const repeats = repeatsOf(reading).filter((repeat) => !isToldAnew(reading, repeat) && (!repeat.partial || !inScale.some((line) => line.from < repeat.from && line.to >= repeat.to)));
  for (const repeat of repeats) {
    found.push(...cover(from, repeat.from - 1, ending, starts), ...parted(repeat, breaths));
    from = repeat.to + 1;
  }
  return [...found, ...cover(from, reading.phrase.notes.length - 1, ending, starts)];
}

/** A copy with breaths in it is as many stretches, and told at the first. */
function parted(repeat: Repeat, breaths: readonly boolean[]): Stretch[] {
  const found: Stretch[] = [];
  let from = repeat.from;
  for (let note = repeat.from; note <= repeat.to; note += 1) {
    if (!breaths[note] && note < repeat.to) continue;
    found.push({ from, to: note, as: 'repeat', device: null, repeat });
    from = note + 1;
  }
  return found;
}

/** A note as the first of a stretch. */
interface Start {
  readonly onBeat: boolean;
  /** What it wraps together with the note before. */
  readonly target: number | null;
}

/** On a beat a single note begins nothing, two hardly anything. */
function worthOfStart({ from, to }: Stretch, { onBeat, target }: Start): number {
  const begins = !onBeat || to === from ? 0 : to - from >= 2 ? ON_BEAT : ON_BEAT_OF_TWO;
  return begins - (target !== null && to >= target && to > from ? SPLIT : 0);
}

/** The best covering of some notes; `ending` are the candidates of the phrase by their last notes. */
function cover(first: number, last: number, ending: ReadonlyMap<number, readonly Candidate[]>, starts: readonly Start[]): Stretch[] {
  const best: { score: number; last: Candidate | null }[] = [{ score: 0, last: null }];
  for (let note = first; note <= last; note += 1) {
    const choices = (ending.get(note) ?? []).filter(({ from }) => from >= first).map((one) => ({ last: one, score: best[one.from - first]!.score + one.score + worthOfStart(one, starts[one.from]!) }));
    best.push(choices.reduce((one, other) => (other.score > one.score ? other : one)));
  }
  const found: Stretch[] = [];
  for (let at = last - first + 1; at > 0; ) {
    const { score: _, ...stretch } = best[at]!.last!;
    found.push(stretch);
    at = stretch.from - first;
  }
  return found.reverse();
}

/** Whether what wraps a note is all of one cell, or ends one statement of a sequence and begins the next. */
export function isOfFigures(reading: Reading, { notes }: Device): boolean {
  return devicesAt(reading, notes[0]!).some(({ kind, from, to, detail }) => {
    const isInside = notes.every((note) => note >= from && note <= to);
    if (kind === 'cell') return isInside;
    const size = kind === 'sequence' && isInside ? Number.parseInt(detail, 10) : 0;
    return size > 0 && new Set(notes.map((note) => Math.floor((note - from) / size))).size > 1;
  });
}

/** Devices that are told by the figures of their notes. */
export const FIGURED: ReadonlySet<string> = new Set(['arpeggio', 'triplet-arpeggio', 'cell', 'upper-structure', 'superimposed-arpeggio']);

/** Devices whose parts are of the same kind may be told in part: the last note of one is often the first of another. */
const DIVISIBLE: ReadonlySet<string> = new Set(['arpeggio', 'scale-run', 'chromatic-run', 'pentatonic-line', 'blues-line', 'bebop-line']);
const LEAST: Readonly<Record<string, number>> = { arpeggio: 3, 'scale-run': 4, 'chromatic-run': 3, 'pentatonic-line': 7, 'blues-line': 5, 'bebop-line': 5 };

/** Lines that a few notes make by chance, and that nobody hears begin within a beat. */
const BY_CHANCE: ReadonlySet<string> = new Set(['pentatonic-line', 'superimposed-pentatonic']);

const FEWEST_OVER_CHANGES = 8;

function begins(reading: Reading, note: number): boolean {
  const places = placesOf(reading.phrase, reading.context);
  return note === 0 || breathAfter(reading, note - 1) || places.isOnBeat(reading.phrase.notes[note]!.onset);
}

/** A few short statements, each from a beat on; others are heard beside what the line is else. */
export function isToldAtOnce({ phrase, context }: Reading, { notes, detail }: Pick<Device, 'notes' | 'detail'>): boolean {
  const size = Number.parseInt(detail, 10);
  const places = placesOf(phrase, context);
  return size <= STATEMENT && notes.length <= STATEMENTS && notes.every((note, i) => i % size > 0 || places.isOnBeat(phrase.notes[note]!.onset));
}

/** Whether nobody hears a sequence: its first two notes wrap the third, or statements off the beat go now up, now down. */
export function isUnheard(reading: Reading, { notes, detail }: Device): boolean {
  const size = Number.parseInt(detail, 10);
  const starts = notes.filter((_, i) => i % size === 0).map((note) => reading.phrase.notes[note]!.midi);
  const wraps = size === 2 && devicesAt(reading, notes[0]!).some(({ kind, from, target }) => kind === 'enclosure' && from === notes[0] && target === notes[2]);
  return wraps || (!isToldAtOnce(reading, { notes, detail }) && new Set(starts.slice(1).map((midi, i) => Math.sign(midi - starts[i]!))).size > 1);
}

/** Lines that are told by their scale. */
export const IN_SCALE: ReadonlySet<string> = new Set(['pentatonic-line', 'blues-line', 'superimposed-pentatonic']);

function deviceCandidates(reading: Reading): Candidate[] {
  const whole = wholeScale(reading);
  // Over changes most bars stay in some pentatonic scale.
  const fewest = reading.context.vamp || reading.context.blues !== null ? FEWEST_IN_SCALE : FEWEST_OVER_CHANGES;
  return devicesOf(reading).map((device) => (device.kind === 'bebop-line' ? withoutLeaps(reading, device) : device)).flatMap((device) => {
    const { stretch } = wordsOf(device.kind);
    const isClosed = device.to - device.from + 1 === device.notes.length;
    if (device.kind === 'enclosure' && isOfFigures(reading, device)) return [];
    if (device.kind === 'sequence' && (!isToldAtOnce(reading, device) || isUnheard(reading, device))) return [];
    if (device.detail === whole || stretch === 0 || !isClosed) return [];
    if (device.kind === 'cell' && goesOnByStep(reading, device)) return [];
    // A few notes of a blues scale, cut from two bars, are heard as parts of those.
    if (device.kind === 'blues-line' && device.notes.length < FEWEST_IN_SCALE && reading.phrase.notes[device.from]!.bar !== reading.phrase.notes[device.to]!.bar) return [];
    // A note that a finding tells is no degree of a figure.
    if (FIGURED.has(device.kind) && device.notes.some((note) => isToldByFinding(reading, { from: note, to: note }))) return [];
    if (BY_CHANCE.has(device.kind) && (device.notes.length < fewest || !begins(reading, device.from))) return [];
    const end = device.target === device.to + 1 ? device.target : device.to;
    const make = (from: number, to: number, share: number): Candidate => ({ from, to, as: 'device', device, repeat: null, score: stretch * share * (to - from + 1) - COST - (device.kind === 'scale-run' && beginsBeforeChord(reading, from) ? BEFORE_CHORD : 0) });
    const all = [make(device.from, end, device.kind === 'sequence' && device.notes.length <= FEW_STATED ? 0.8 : 1), ...(end > device.to ? [make(device.from, device.to, 0.97)] : [])];
    if (!DIVISIBLE.has(device.kind)) return all;
    const parts: Candidate[] = [];
    for (let from = device.from; from <= Math.min(device.from + 2, end); from += 1)
      for (let to = Math.max(end - 2, from); to <= end; to += 1)
        if (to - from + 1 >= LEAST[device.kind]! && (from > device.from || to < end)) parts.push(make(from, to, 0.95));
    return [...all, ...parts];
  });
}

/** A bebop scale as far as it goes by step: the arpeggio before it, or after it, is told as that. */
function withoutLeaps({ phrase }: Reading, device: Device): Device {
  const isByStep = (one: number | undefined, other: number | undefined): boolean => one !== undefined && other !== undefined && Math.abs(phrase.notes[other]!.midi - phrase.notes[one]!.midi) <= 2;
  const { notes } = device;
  const first = notes.findIndex((note, i) => isByStep(note, notes[i + 1]));
  const last = notes.findLastIndex((note, i) => isByStep(notes[i - 1], note));
  const own = notes.slice(first, last + 1);
  return own.length < LEAST['bebop-line']! ? device : { ...device, notes: own, from: own[0]!, to: own[own.length - 1]! };
}

/** What it costs a run to begin with a note or two over the chord before. */
const BEFORE_CHORD = 0.4;

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

/** Notes that climb or fall by half steps, so many that it is heard. */
const HALF_STEPS = 4;

/** A line that is told as half steps. */
export function isByHalfSteps({ phrase }: Reading, { from, to, as }: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  return as === 'line' && to - from + 1 >= HALF_STEPS && phrase.notes.slice(from, to).every(({ midi, index }) => Math.abs(phrase.notes[index + 1]!.midi - midi) === 1);
}

/** Motion in one direction, or any notes, over one chord and within one bar. */
function plainCandidates(reading: Reading): Candidate[] {
  const { phrase, notes } = reading;
  const found: Candidate[] = [];
  const astray = notes.map(({ note }) => isAstray(reading, note));
  const astrayIn = (from: number, to: number): number => (isByHalfSteps(reading, { from, to, as: 'line' }) ? 0 : notesIn({ from, to }).filter((note) => astray[note]).length);
  const flaggedIn = (from: number, to: number): number => (isByHalfSteps(reading, { from, to, as: 'line' }) ? 0 : notesIn({ from, to }).filter((note) => isToldByFinding(reading, { from: note, to: note })).length);
  const last = notes.length - 1;
  for (let from = 0; from <= last; from += 1) {
    let direction: number | null = null;
    for (let to = from; to <= Math.min(last, from + LONGEST); to += 1) {
      if (to > from) {
        const [one, other] = [phrase.notes[to - 1]!, phrase.notes[to]!];
        if (one.bar !== other.bar || notes[to - 1]!.placement?.span !== notes[to]!.placement?.span) break;
        const way = Math.sign(other.midi - one.midi);
        direction = direction === null || direction === way ? way : 0;
      }
      const count = to - from + 1;
      const isLine = count >= 3 && direction !== null && direction !== 0;
      // Two notes down from a peak are heard as three.
      const fromPeak = count === 2 && turnsBefore(reading, from) ? FROM_PEAK : 0;
      const foreign = count > 1 ? ASTRAY * astrayIn(from, to) + FLAGGED * flaggedIn(from, to) : 0;
      found.push({ from, to, as: isLine ? 'line' : 'plain', device: null, repeat: null, score: (isLine ? 0.7 : 0.3) * count - COST + fromPeak - foreign });
    }
  }
  return found;
}

/** What it is worth that two notes go on from a peak or a low point, and what it costs to number a note that a finding tells. */
const FROM_PEAK = 0.5;
const FLAGGED = 3;

/** Whether two notes go on one way from the note before, over one chord and within a bar, and the line came to that the other way. */
export function turnsBefore({ phrase, notes }: Reading, from: number): boolean {
  const [before, peak, first, second] = [from - 2, from - 1, from, from + 1].map((note) => phrase.notes[note]);
  if (before === undefined || peak === undefined || first === undefined || second === undefined) return false;
  const isTogether = peak.bar === second.bar && notes[peak.index]!.placement !== null && [first, second].every(({ index }) => notes[index]!.placement?.span === notes[peak.index]!.placement!.span);
  const way = Math.sign(first.midi - peak.midi);
  return isTogether && way !== 0 && Math.sign(second.midi - first.midi) === way && Math.sign(peak.midi - before.midi) === -way;
}

/** Whether a finding tells a stretch: one note that is warned of. */
export function isToldByFinding({ notes }: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): boolean {
  const level = from === to ? notes[from]!.verdict?.level : undefined;
  return level === 'warning' || level === 'information';
}

/** A note out of its chord's scale that leads by half step to the note after it. */
export function isAstray({ phrase, notes, scales }: Reading, note: number): boolean {
  const { placement } = notes[note]!;
  const next = phrase.notes[note + 1];
  const scale = placement === null ? null : scales[placement.span];
  if (next === undefined || Math.abs(next.midi - phrase.notes[note]!.midi) !== 1 || scale == null || placement!.role === 'chord-tone') return false;
  return !scale.tones.some(({ name }) => chroma(name) === chroma(phrase.notes[note]!.pitch));
}
