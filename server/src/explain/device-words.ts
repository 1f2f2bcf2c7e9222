/** Devices in the words of a lesson: one entry a device, so that a new one does not compile until it has words. */
import { ADDED } from '../analysis/devices/bebop-line';
import { devicesAt } from '../analysis/devices/read';
import { homeKey } from '../analysis/keys';
import { ofReading } from '../analysis/of-reading';
import { placesOf } from '../analysis/places';
import { chordOfPlacement, connected, isDominant, isHalfStep } from '../analysis/vocabulary';
import { isWrittenStrangely } from '../analysis/shown-figure';
import type { Device, DeviceKind } from '../analysis/devices/device';
import type { Reading } from '../analysis/types';
import type { Meter } from '../model/types';
import { shiftBetween, transposeName } from '../theory/interval';
import { chroma, formatNoteName, nameOf, soundClass, staffPlace } from '../theory/pitch';
import { keyScale } from '../theory/key';
import { formatScale } from '../theory/scale';
import type { Scale } from '../theory/types';
import { beatWords, withArticle } from '../rules/words';
import {
  chordName,
  degreeWords,
  distance,
  figures,
  foreignNotes,
  inRole,
  listed,
  noteName,
  noteNames,
  ofChord,
  scaleInWords,
  theChord,
} from './note-words';
import { lineFigures } from './line-figures';
import { isAllHarmonicMinor, minorForms } from './minor-scales';
import { listedWords, plain, say, type Words } from './say';
import { areStackedFourths } from './stacked-fourths';

/** What a device is told from: the notes it is made of, and where it leads. */
export interface Talk {
  readonly reading: Reading;
  /** Repeated notes once. */
  readonly notes: readonly number[];
  readonly target: number | null;
  readonly detail: string;
  readonly scale?: Scale | undefined;
  /** A bar before has told the same figures, or notes, at this place, over another chord. */
  readonly comesAgain?: boolean | undefined;
}

/** Figures in a row that can be followed by ear, of notes one way. */
export const FEW = 8;

export interface DeviceWords {
  /** How much each of its notes is explained when it is told as a stretch of the line; 0 where it is told inside one. */
  readonly stretch: number;
  /** How much a teacher wants to say it, 0 to 10. */
  readonly weight: number;
  /** The same where a bar before has said it in the same words; as much as the first time where it is not given. */
  readonly again?: number;
  /** A clause that can stand alone, without a full stop. */
  clause(talk: Talk): Words;
  /** The same after a clause that has told the target already. */
  after?(talk: Talk): Words;
  /** The same where the figures of its notes were told. */
  spelledOut?(talk: Talk): Words;
  /** Whether the clause tells what a note is, and not where the line goes; `after` always does. */
  states?(talk: Talk): boolean;
}

const WORDS: Readonly<Record<DeviceKind, DeviceWords>> = {
  enclosure: {
    stretch: 1.05,
    weight: 8,
    clause: (talk) => enclosed(withoutLeapIn(talk)),
  },
  'double-chromatic': {
    stretch: 1,
    weight: 7,
    clause: (talk) => say`${each(talk)} lead by half steps into ${target(talk)}${figuresInto(talk)}`,
  },
  suspension: {
    stretch: 0,
    weight: 8,
    clause: (talk) =>
      talk.detail === '4–3'
        ? say`${first(talk)}, the suspended fourth, falls to ${target(talk)} (4–3)`
        : say`${kept(talk)} and falls to ${target(talk)} (a suspension)`,
  },
  retardation: {
    stretch: 0,
    weight: 8,
    clause: (talk) => say`${kept(talk)} and rises to ${target(talk)} (a retardation)`,
  },
  anticipation: { stretch: 0, weight: 7, clause: (talk) => anticipated(talk), states: () => true },
  appoggiatura: { stretch: 0, weight: 5, clause: (talk) => say`${first(talk)} leans on ${target(talk)}` },
  approach: { stretch: 0, weight: 3, clause: (talk) => say`${first(talk)} leads by ${stepInto(talk)} into ${target(talk)}` },
  'neighbour-tone': {
    stretch: 0,
    weight: 3,
    clause: (talk) => say`${first(talk)} is ${/upper/.test(talk.detail) ? 'an upper' : 'a lower'} neighbour of ${targetName(talk)}`,
  },
  'passing-tone': {
    stretch: 0,
    weight: 2,
    clause: (talk) => blueFifth(talk) ?? say`${each(talk)} ${talk.notes.length === 1 ? 'passes' : 'pass'} to ${targetName(talk)}`,
  },
  'escape-tone': { stretch: 0, weight: 2, clause: (talk) => say`${first(talk)} is an escape tone: by step one way, by leap the other` },
  'chromatic-run': {
    stretch: 1.3,
    weight: 8,
    clause: (talk) => say`${first(talk)} ${rises(talk) ? 'climbs' : 'falls'} by half steps to ${target(talk)}`,
  },
  arpeggio: { stretch: 1.1, weight: 7, clause: (talk) => (isTriplet(talk) ? say`the triplet ${climbs(talk)}` : climbs(talk)) },
  'scale-run': { stretch: 1.05, weight: 6, clause: (talk) => runs(talk) },
  turn: { stretch: 1.1, weight: 6, clause: (talk) => say`${names(talk)} turns round ${inRole(talk.reading, talk.notes[1]!)}` },
  mordent: { stretch: 1.05, weight: 5, clause: (talk) => say`${names(talk)} is a mordent on ${firstRole(talk)}` },
  'triplet-arpeggio': { stretch: 1.15, weight: 7, clause: (talk) => say`the triplet ${climbs(talk)}` },
  'pentatonic-line': { stretch: 0.9, weight: 6, clause: (talk) => say`${stretchOfLine(talk)} stays in ${scaleInWords(talk.scale!)}` },
  'blues-line': { stretch: 1.15, weight: 8, clause: (talk) => say`${stretchOfLine(talk)} stays in ${scaleInWords(talk.scale!)}` },
  'bebop-line': {
    stretch: 1.5,
    weight: 8,
    clause: (talk) => say`${stretchOfLine(talk)} runs in ${scaleInWords(talk.scale!)}${withAdded(talk.reading, talk.notes, talk.scale!)}`,
  },
  'guide-tone-resolution': {
    stretch: 0,
    weight: 7,
    clause: (talk) => guide(talk),
    states: (talk) => stays(talk),
    after: (talk) =>
      comesEarly(talk)
        ? say`the ${first(talk)} is ${ownRole(talk)}`
        : say`the ${first(talk)} is ${ownRole(talk)}, ${goesOn(talk) ? `going by step to` : 'resolving to'} ${targetName(talk)}`,
  },
  cell: {
    stretch: 1.12,
    weight: 7,
    clause: (talk) =>
      say`${names(talk)} is ${talk.comesAgain === true ? 'again ' : ''}${plainCell(talk)}${ofChordOf(talk)}${asDiminished(talk)}`,
  },
  sequence: { stretch: 1.15, weight: 8, clause: (talk) => sequence(talk) },
  'tension-resolution': {
    stretch: 0,
    weight: 9,
    clause: (talk) =>
      isRaised(talk)
        ? say`${first(talk)} leads by half step into ${target(talk)}`
        : say`${first(talk)}, the ${tension(talk)}${ofChordOf(talk)}, ${way(talk)}${between(talk)} to ${tensionTarget(talk)}`,
    spelledOut: (talk) =>
      isRaised(talk)
        ? say`${first(talk)} leads by half step into ${target(talk)}`
        : (bothNines(talk) ?? say`the ${tension(talk)}${ofChordOf(talk)} ${way(talk)}${between(talk)} to ${tensionTarget(talk)}`),
    after: (talk) =>
      isRaised(talk) ? say`the ${first(talk)} leads by half step` : say`the ${first(talk)} is the ${tension(talk)}${ofChordOf(talk)}`,
  },
  'leading-tone': {
    stretch: 0,
    weight: 7,
    clause: (talk) => say`${firstRole(talk)}, leads up to ${target(talk)}`,
    after: (talk) => say`the ${first(talk)} is ${ownRole(talk)}, leading up to ${targetName(talk)}`,
  },
  'common-tone': {
    stretch: 0,
    weight: 7,
    clause: (talk) =>
      ownDegree(talk) === targetDegree(talk)
        ? say`the ${first(talk)} stays, the ${targetDegree(talk)} of both chords`
        : say`the ${first(talk)} stays: ${ownRole(talk)} becomes the ${targetDegree(talk)}${ofTargetChord(talk)}`,
    states: () => true,
  },
  'blue-third': {
    stretch: 0,
    weight: 8,
    again: 1,
    clause: (talk) => say`the blue third, ${first(talk)}, rises to the third, ${targetName(talk)}`,
  },
  'held-over': { stretch: 0, weight: 6, clause: (talk) => heldOver(talk) },
  'upper-structure': {
    stretch: 1.2,
    weight: 8,
    clause: (talk) => say`${names(talk)} is ${withArticle(`${talk.detail} triad`)} over ${chordOf(talk)} (${numbers(talk)})`,
  },
  'superimposed-arpeggio': {
    stretch: 1.2,
    weight: 8,
    clause: (talk) =>
      say`${names(talk)} ${rises(talk) ? 'climbs' : 'falls down'} ${withArticle(`${talk.detail} arpeggio`)} over ${chordOf(talk)} (${numbers(talk)})`,
  },
  'superimposed-pentatonic': {
    stretch: 1.15,
    weight: 8,
    clause: (talk) => say`${stretchOfLine(talk)} lays ${scaleInWords(talk.scale!)} over ${chordOf(talk)}`,
  },
  'modal-colour': {
    stretch: 0,
    weight: 8,
    clause: (talk) => say`${first(talk)}, the ${ownDegree(talk)}, is the colour of ${talk.detail}`,
    states: () => true,
  },
  'side-slip': {
    stretch: 1.3,
    weight: 9,
    clause: (talk) =>
      isFigureAgain(talk)
        ? say`${names(talk)}, the same figure a half step ${talk.detail === 'up' ? 'higher' : 'lower'}, side-slips from ${leftChords(talk)} and back to ${backTo(talk)}`
        : say`${names(talk)} side-slips a half step ${talk.detail === '' ? 'away' : talk.detail} from ${leftChords(talk)} and back to ${backTo(talk)}`,
  },
};

export function wordsOf(kind: DeviceKind): DeviceWords {
  return WORDS[kind];
}

/** A kind of device as a name in a sentence: `passing tone`. */
export function deviceName(kind: DeviceKind): string {
  return kind.replaceAll('-', ' ');
}

/** A device as a clause: `F and D enclose E, the third of C7`. */
export function deviceWords(device: Device, reading: Reading): string {
  const known = clausesOf(reading);
  const words = known.get(device) ?? plain(WORDS[device.kind].clause(talkOf(device, reading)));
  known.set(device, words);
  return words;
}

/** Said of each note of a device, and worked out from all of them: once a device. */
const clausesOf = ofReading(() => new Map<Device, string>());

export function talkOf({ notes, target: to, detail, scale, comesAgain }: Omit<Talk, 'reading'>, reading: Reading): Talk {
  const sounding = notes.filter((note, i) => i === 0 || reading.phrase.notes[note]!.midi !== reading.phrase.notes[notes[i - 1]!]!.midi);
  return { reading, notes: sounding, target: to, detail, scale, comesAgain };
}

/** ` (9-b9-1)`: within one chord; else nothing. */
function figuresInto({ reading, notes, target: to }: Talk): string {
  const all = to === null ? notes : [...notes, to];
  return to !== null && isOverOneChord(reading, all) ? ` (${figures(reading, all)})` : '';
}

function enclosed(talk: Talk): Words {
  const goal = say`${target(talk)}${comesEarly(talk) ? ', which comes early' : ''}`;
  if (isDoubleChromatic(talk)) return say`${names(talk)} is a double chromatic enclosure of ${goal}`;
  return talk.notes.length === 2 ? say`${wrapping(talk)} enclose ${goal}` : say`${names(talk)} encloses ${goal}`;
}

/** Whether the target is heard against the chord to come. */
function comesEarly({ reading, target: to }: Talk): boolean {
  return (
    to !== null && devicesAt(reading, to).some(({ kind, from, target: goal }) => kind === 'anticipation' && from === to && goal === null)
  );
}

/** Two half steps from above and two from below, in any order. */
function isDoubleChromatic({ reading, notes, target: to }: Talk): boolean {
  if (to === null) return false;
  const { midi } = reading.phrase.notes[to]!;
  const sizes = notes.map((note) => reading.phrase.notes[note]!.midi - midi);
  return notes.length === 4 && [2, 1, -1, -2].every((size) => sizes.includes(size));
}

/** `F and D#, a half step below,`: within one chord that is no dominant, the one note of two that is not in its scale is told apart. */
function wrapping(talk: Talk): string {
  const { reading, notes, target: to } = talk;
  const placement = to === null ? null : reading.notes[to]!.placement;
  const chord = chordOfPlacement(reading, placement);
  const scale = placement === null ? null : reading.scales[placement.span];
  if (to === null || chord === null || scale == null || isDominant(chord) || !isOverOneChord(reading, [...notes, to])) return each(talk);
  const isForeign = (note: number): boolean => !scale.sounds.has(chroma(reading.phrase.notes[note]!.pitch));
  const isBelow = (note: number): boolean => reading.phrase.notes[note]!.midi === reading.phrase.notes[to]!.midi - 1;
  const [low, ...others] = notes.filter(isForeign);
  if (low === undefined || others.length > 0 || !isBelow(low)) return each(talk);
  const apart = `${noteName(reading, low)}, a half step below,`;
  const other = noteName(reading, notes.find((note) => note !== low)!);
  return low === notes[0] ? `${apart} and ${other}` : `${other} and ${apart}`;
}

/** Of three notes the first, where it is a chord tone that leaps away: the other two are heard to wrap. */
function withoutLeapIn(talk: Talk): Talk {
  const { reading, notes, target: to } = talk;
  if (notes.length !== 3 || to === null) return talk;
  const [first, second, third] = notes.map((note) => reading.phrase.notes[note]!.midi) as [number, number, number];
  const { midi } = reading.phrase.notes[to]!;
  const wraps = Math.sign(second - midi) !== Math.sign(third - midi);
  return wraps && Math.abs(second - first) > 2 && reading.notes[notes[0]!]!.placement?.role === 'chord-tone'
    ? { ...talk, notes: notes.slice(1) }
    : talk;
}

function names({ reading, notes }: Talk): string {
  return noteNames(reading, notes);
}

function each({ reading, notes }: Talk): string {
  return listed(notes.map((note) => noteName(reading, note)));
}

function numbers({ reading, notes }: Talk): string {
  return figures(reading, notes);
}

function first({ reading, notes }: Talk): string {
  return noteName(reading, notes[0]!);
}

function firstRole({ reading, notes }: Talk): Words {
  return inRole(reading, notes[0]!);
}

function ownDegree({ reading, notes }: Talk): string {
  const { placement } = reading.notes[notes[0]!]!;
  return placement === null ? noteName(reading, notes[0]!) : degreeWords(reading, placement);
}

/** `the seventh of Dm7`. */
function ownRole(talk: Talk): Words {
  return say`the ${ownDegree(talk)}${ofChordOf(talk)}`;
}

function target({ reading, target: to, notes }: Talk): Words {
  return inRole(reading, to ?? notes[notes.length - 1]!);
}

function targetName({ reading, target: to, notes }: Talk): string {
  return noteName(reading, to ?? notes[notes.length - 1]!);
}

/** What the target is; of a note that is held, over the chord that it is held into. */
function targetDegree({ reading, target: to, notes }: Talk): string {
  const placement = arrival(reading, to, notes);
  return placement === null ? 'same note' : degreeWords(reading, placement);
}

function targetChord({ reading, target: to, notes }: Talk): string {
  const placement = arrival(reading, to, notes);
  return placement === null ? 'no chord' : chordName(reading, placement);
}

function ofTargetChord({ reading, target: to, notes }: Talk): Words {
  const placement = arrival(reading, to, notes);
  return placement === null ? [' of no chord'] : ofChord(reading, placement);
}

function arrival(reading: Reading, to: number | null, notes: readonly number[]) {
  const last = notes[notes.length - 1]!;
  if (to !== null && to !== last) return reading.notes[to]!.placement;
  const { soundings, placement } = reading.notes[last]!;
  return soundings[soundings.length - 1]?.placement ?? placement;
}

/** `C7`: the chord over which the device begins. */
function chordOf({ reading, notes }: Talk): Words {
  const { placement } = reading.notes[notes[0]!]!;
  return placement === null ? ['no chord'] : theChord(reading, placement);
}

/** Whether a side-slip is the figure before it, moved. */
function isFigureAgain({ reading, notes }: Talk): boolean {
  const slip = reading.slips.get(notes[0]!);
  return slip !== undefined && slip.model < slip.from;
}

/** `Dm7`; `Dm7 over G7`: the chords of the figure inside, and those over which it slips where they are others. They are told even where they were just named. */
function leftChords({ reading, notes }: Talk): string {
  const chordsOf = (all: readonly number[]): string => {
    const placed = all.map((note) => reading.notes[note]!.placement).filter((placement) => placement !== null);
    return listed([...new Set(placed.map((placement) => chordName(reading, placement)))]);
  };
  const own = chordsOf(notes);
  const slip = reading.slips.get(notes[0]!);
  if (slip === undefined) return own;
  const left = chordsOf(Array.from({ length: slip.to - slip.from + 1 }, (_, i) => slip.model + i));
  return left === own ? own : `${left} over ${own}`;
}

/** `F, the third`; `E, the third of Cmaj7` over another chord than the slip's; of no chord tone the name. */
function backTo(talk: Talk): Words {
  const { reading, notes, target: to } = talk;
  const placement = to === null ? null : reading.notes[to]!.placement;
  if (placement?.role !== 'chord-tone') return [targetName(talk)];
  const isSame = chordName(reading, placement) === plain(chordOf({ ...talk, notes: notes.slice(-1) }));
  return isSame ? say`${targetName(talk)}, the ${degreeWords(reading, placement)}` : say`${target(talk)}`;
}

/** ` of C7`. */
function ofChordOf({ reading, notes }: Talk): Words {
  const { placement } = reading.notes[notes[0]!]!;
  return placement === null ? [' of no chord'] : ofChord(reading, placement);
}

function rises({ reading, notes }: Talk): boolean {
  return reading.phrase.notes[notes[notes.length - 1]!]!.midi > reading.phrase.notes[notes[0]!]!.midi;
}

function climbs(talk: Talk): Words {
  return say`${names(talk)} ${rises(talk) ? 'climbs' : 'falls'} ${numbers(talk)}${ofChordOf(talk)}${asDiminished(talk)}`;
}

/** Whether a part of an arpeggio is a triplet of its own. */
function isTriplet({ reading, notes }: Talk): boolean {
  return devicesAt(reading, notes[0]!).some((device) => device.kind === 'triplet-arpeggio' && device.notes.join() === notes.join());
}

/** `, a diminished seventh arpeggio`: third, fifth, seventh and flat nine of a dominant and no other note, the first time that a phrase has them one after another. */
export function asDiminished({ reading, notes }: Pick<Talk, 'reading' | 'notes'>): string {
  const isThatOnly = notes.length > 3 && notes.every((note) => isMinorThirds(reading, notes[0]!, note));
  return isThatOnly && notes[0] === firstDiminished(reading) ? ', a diminished seventh arpeggio' : '';
}

function isMinorThirds({ phrase: { notes } }: Reading, one: number, other: number): boolean {
  return (notes[other]!.midi - notes[one]!.midi) % 3 === 0;
}

/** The first of four notes a minor third apart, each another, over one dominant; null where there are none. */
const firstDiminished = ofReading((reading): number | null => {
  const {
    phrase: { notes, spans },
    notes: read,
  } = reading;
  const found = notes.findIndex((_, i) => {
    const four = notes.slice(i, i + 4);
    const span = read[i]!.placement?.span;
    const chord = span === undefined ? null : spans[span]!.chord;
    return (
      four.length === 4 &&
      chord !== null &&
      isDominant(chord) &&
      four.every(({ index }) => read[index]!.placement?.span === span && isMinorThirds(reading, i, index)) &&
      new Set(four.map(({ midi }) => midi % 12)).size === 4
    );
  });
  return found < 0 ? null : found;
});

export const OCTAVE = 12;

function runs(talk: Talk): Words {
  const [from, to] = [talk.notes[0]!, talk.notes[talk.notes.length - 1]!].map((note) => talk.reading.phrase.notes[note]!);
  if (Math.abs(to!.midi - from!.midi) === OCTAVE)
    return say`${rises(talk) ? 'up' : 'down'} the ${scaleOf(talk)}scale from ${firstRole(talk)}, through an octave${overChange(talk)}`;
  const spelled = spelledScale(talk);
  if (spelled !== null) return spelled;
  return say`${rises(talk) ? 'up' : 'down'} the ${scaleOf(talk)}scale from ${firstRole(talk)}, ${throughChange(talk)}to ${inRole(talk.reading, talk.notes[talk.notes.length - 1]!)}`;
}

/** ` to G, the third of Ebmaj7`: where a run through an octave ends on a chord tone of another chord; else nothing. */
function overChange({ reading, notes }: Talk): Words {
  const last = notes[notes.length - 1]!;
  const isGoal = !isOverOneChord(reading, [notes[0]!, last]) && reading.notes[last]!.placement?.role === 'chord-tone';
  return isGoal ? say` to ${inRole(reading, last)}` : [];
}

/** Scales of which hardly a note has the figure that one expects. */
const SPELLED: ReadonlySet<string> = new Set(['altered', 'half-whole diminished']);

/** `down the D altered scale from F to F#, #9-b9-1-b7-b13-b5-3 of D7alt`; null of another scale, and where it is long or ends over another chord. */
function spelledScale(talk: Talk): Words | null {
  const { reading, notes } = talk;
  const scale = scaleTold(talk);
  if (scale === null || !SPELLED.has(scale.name) || notes.length > FEW || !isOverOneChord(reading, notes)) return null;
  return say`${rises(talk) ? 'up' : 'down'} the ${scaleTitle(scale)} scale from ${first(talk)} to ${noteName(reading, notes[notes.length - 1]!)}, ${numbers(talk)}${ofChordOf(talk)}`;
}

/** `through C, the flat thirteen of E7b9, `: the first altered tension after a change of chord that a run goes through, or the sharp eleven of the first run that is told by lydian dominant; else nothing. */
function throughChange(talk: Talk): Words {
  const { reading, notes } = talk;
  const first = reading.notes[notes[0]!]!.placement?.span;
  const eleven = notes.slice(1, -1).find((one) => one === firstSharpEleven(reading));
  if (eleven !== undefined && scaleTold(talk)?.name === 'lydian dominant') return say`through ${inRole(reading, eleven)}, `;
  const note = notes.slice(1, -1).find((one) => {
    const { placement } = reading.notes[one]!;
    return placement !== null && placement.span !== first && placement.role === 'tension' && placement.called.alter !== 0;
  });
  return note === undefined ? [] : say`through ${inRole(reading, note)}, `;
}

/** The first sharp eleven of a lydian dominant in a phrase; null where there is none. */
const firstSharpEleven = ofReading(({ notes, scales }): number | null => {
  const found = notes.find(
    ({ placement }) =>
      placement !== null &&
      scales[placement.span]?.name === 'lydian dominant' &&
      placement.called.alter === 1 &&
      [4, 11].includes(placement.called.number),
  );
  return found === undefined ? null : found.note;
});

/** Scales that a teacher names: over a dominant, where two altered notes tell them. */
const NAMED: ReadonlySet<string> = new Set(['altered', 'half-whole diminished', 'whole tone', 'lydian dominant', 'mixolydian b9 b13']);

/** `G altered `; empty where none is told, or the whole line is said to be in it. */
function scaleOf(talk: Talk): string {
  const form = minorForms(talk.reading).find(({ sixth, seventh }) => talk.notes.includes(sixth) && talk.notes.includes(seventh));
  if (form !== undefined) return `${form.title} `;
  const scale = scaleTold(talk);
  const isOfAll = scale?.name === 'mixolydian b9 b13' && isAllHarmonicMinor(talk.reading);
  return scale === null || isOfAll ? '' : `${scaleTitle(scale)} `;
}

/** The scale that a run over a dominant is told by; null where nothing but the chord tells it, or the run goes through two. */
export function scaleTold({ reading, notes }: Pick<Talk, 'reading' | 'notes'>): Scale | null {
  const span = reading.notes[notes[0]!]!.placement?.span;
  // It may end over the chord that it leads to.
  const placed = notes.map((note) => reading.notes[note]!.placement).filter((one, i) => i < notes.length - 1 || one?.span === span);
  const scale = span === undefined ? null : reading.scales[span];
  if (scale == null || !NAMED.has(scale.name) || placed.some((one) => one?.span !== span)) return null;
  const altered = new Set(
    placed.flatMap((one) => (one!.called.alter !== 0 && one!.called.number !== 7 ? [`${one!.called.number}${one!.called.alter}`] : [])),
  );
  const isTold = notes.every((note) => scale.sounds.has(chroma(reading.phrase.notes[note]!.pitch)));
  return isTold && altered.size >= (scale.name === 'lydian dominant' ? 1 : 2) ? scale : null;
}

/** `C altered`; the scale of the fifth degree of harmonic minor by the minor it comes from. */
export function scaleTitle(scale: Scale): string {
  return scale.name === 'mixolydian b9 b13'
    ? `${formatNoteName(transposeName(scale.root, { diatonic: 3, chromatic: 5 }))} harmonic minor`
    : formatScale(scale);
}

/** `from C to Bb the line`, with the beat where it does not begin with its bar, and the bar of the end where that is another; `the whole line`. */
function stretchOfLine({ reading, notes }: Talk): string {
  const { phrase } = reading;
  const [first, last] = [phrase.notes[notes[0]!]!, phrase.notes[notes[notes.length - 1]!]!];
  if (first.index === 0 && last.index === phrase.notes.length - 1) return 'the whole line';
  const isFirst = phrase.notes[first.index - 1]?.bar !== first.bar;
  // A note that comes more than once in the bar in which the line ends needs its beat.
  const isOnly =
    phrase.notes.filter(({ index, bar, pitch }) => index >= first.index && bar === last.bar && chroma(pitch) === chroma(last.pitch))
      .length === 1;
  const end =
    first.bar === last.bar
      ? isOnly
        ? ''
        : ` on ${beatWords(last.beat)}`
      : `${isOnly ? '' : ` on ${beatWords(last.beat)}`} of bar ${last.bar}`;
  return `from ${noteName(reading, first.index)}${isFirst ? '' : ` on ${beatWords(first.beat)}`} to ${end === '' ? '' : 'the '}${noteName(reading, last.index)}${end} the line`;
}

/** `, where A#, between B and A, keeps the chord tones on the beats`: where the note stands that a bebop scale adds, and what it is for; not that where not all beats have chord tones; empty of other lines. */
export function withAdded(reading: Reading, line: readonly number[], { name, root }: Scale): string {
  const places = placesOf(reading.phrase, reading.context);
  const above = ADDED[name];
  const isAdded = (note: number): boolean => soundClass(chroma(reading.phrase.notes[note]!.pitch) - chroma(root)) === above;
  const added = above === undefined ? [] : line.filter(isAdded);
  if (added.length === 0) return '';
  const passing = added.find((note) => passesBetween(reading, note)) ?? null;
  const between = passing === null ? '' : `between ${noteName(reading, passing - 1)} and ${noteName(reading, passing + 1)}`;
  const keeps = line
    .filter((note) => places.isOnBeat(reading.phrase.notes[note]!.onset))
    .every((note) => reading.notes[note]!.placement?.role === 'chord-tone');
  const own = noteName(reading, passing ?? added[0]!);
  if (keeps) return `, where ${own}${between === '' ? '' : `, ${between},`} keeps the chord tones on the beats`;
  return between === '' ? '' : `, with ${own} ${between}`;
}

/** Whether a note stands between its neighbours, by step on both sides. */
function passesBetween({ phrase: { notes } }: Reading, note: number): boolean {
  const [before, own, after] = [notes[note - 1], notes[note]!, notes[note + 1]];
  if (before === undefined || after === undefined) return false;
  const sizes = [own.midi - before.midi, after.midi - own.midi];
  return sizes.every((size) => size !== 0 && Math.abs(size) <= 2 && Math.sign(size) === Math.sign(sizes[0]!));
}

/** `1-2-3-5` of a cell, without the listed one that it is backward. */
export function plainCell({ detail }: Pick<Talk, 'detail'>): string {
  return detail.replace(/ \(.*\)$/, '');
}

/** `C#, the blue fifth, passes between C and D`: the same up and down, so that it is said once; null of another note. */
function blueFifth({ reading, notes, target: to }: Talk): Words | null {
  const note = notes[0]!;
  const blue = reading.notes[note]!.placement?.blue;
  if (notes.length > 1 || to === null || note === 0 || blue?.number !== 5 || !blue.atHome) return null;
  const [low, high] = [note - 1, to].sort((a, b) => reading.phrase.notes[a]!.midi - reading.phrase.notes[b]!.midi);
  return say`${noteName(reading, note)}, the blue fifth, passes between ${noteName(reading, low!)} and ${noteName(reading, high!)}`;
}

function stepInto({ reading, notes, target: to }: Talk): string {
  const size = to === null ? 2 : Math.abs(reading.phrase.notes[to]!.midi - reading.phrase.notes[notes[0]!]!.midi);
  return size === 1 ? 'half step' : 'step';
}

function guide(talk: Talk): Words {
  const own = talk.comesAgain === true ? say`${first(talk)}, now the ${ownDegree(talk)}` : firstRole(talk);
  if (stays(talk)) return say`${own}, ${between(talk) === '' ? 'stays' : 'comes back'} as the ${targetDegree(talk)}${ofTargetChord(talk)}`;
  return say`${own}, ${goesOn(talk) ? `${way(talk)}${stepIn(talk)}` : 'resolves'}${between(talk)} to ${target(talk)}`;
}

/** ` a half step`, ` by step`; empty where another note comes between. */
function stepIn(talk: Talk): string {
  const { reading, notes, target: to } = talk;
  if (to === null || between(talk) !== '') return '';
  return isHalfStep(reading.phrase.notes[notes[0]!]!, reading.phrase.notes[to]!) ? ' a half step' : ' by step';
}

/** Whether a rest of a beat or more follows a note. */
function isParted({ phrase, context }: Reading, note: number): boolean {
  const [own, next] = [phrase.notes[note]!, phrase.notes[note + 1]!];
  return !connected(own, next, placesOf(phrase, context));
}

/** Whether it leads to the same note again. */
function stays({ reading: { phrase }, notes, target: to }: Talk): boolean {
  return to !== null && phrase.notes[to]!.midi === phrase.notes[notes[0]!]!.midi;
}

/** From a third to a third, to a seventh from either, of a dominant, or to a diminished chord: it moves along with its chord, and is not at rest there. */
function goesOn({ reading, target: to, notes }: Talk): boolean {
  const [own, other] = [reading.notes[notes[0]!]!.placement, arrival(reading, to, notes)];
  const chord = chordOfPlacement(reading, other);
  if (own === null || other === null || chord === null) return false;
  if (chord.family.startsWith('diminished')) return true;
  if (!isDominant(chord)) return false;
  return own.called.number === other.called.number || (own.called.number === 3 && other.called.number === 7);
}

/** Half steps: a note so far away from both is heard in another voice, and not on the way. */
const ANOTHER_VOICE = 3;

/** ` by way of Gb`: a note that comes before the target; ` over the rest` of a beat or more; empty where neither does. */
function between({ reading, notes, target: to }: Talk): string {
  const last = notes[notes.length - 1]!;
  if (to === last + 1 && isParted(reading, last)) return ' over the rest';
  const others =
    to === null
      ? []
      : Array.from({ length: Math.max(0, to - last - 1) }, (_, i) => last + 1 + i).filter(
          (note) => reading.phrase.notes[note]!.midi !== reading.phrase.notes[last]!.midi,
        );
  const isFar = (note: number): boolean =>
    [last, to!].every((one) => Math.abs(reading.phrase.notes[note]!.midi - reading.phrase.notes[one]!.midi) >= ANOTHER_VOICE);
  return others.length === 0 || isFar(others[0]!) ? '' : ` by way of ${noteName(reading, others[0]!)}`;
}

function anticipated(talk: Talk): Words {
  // One that the chord strikes again is heard against its own chord until then.
  return talk.target === null
    ? say`${firstRole(talk)}, comes early`
    : say`${first(talk)}, the ${targetDegree(talk)}${ofTargetChord(talk)}, comes early`;
}

const MOST_NAMED = 4;

/** `C-E-G, D-F-A and E-G-B are a sequence, each a step higher`. */
function sequence({ reading, notes, detail }: Talk): Words {
  const [size, count] = /^(\d+) notes, (\d+) times/.exec(detail)!.slice(1).map(Number) as [number, number];
  const starts = Array.from({ length: count }, (_, i) => notes[0]! + i * size);
  const notesFrom = (from: number): number[] => Array.from({ length: size }, (_, i) => from + i);
  const statement = (from: number): string => noteNames(reading, notesFrom(from));
  const letters = new Set(
    starts.slice(1).map((start, i) => staffPlace(reading.phrase.notes[start]!.pitch) - staffPlace(reading.phrase.notes[starts[i]!]!.pitch)),
  );
  const [step] = letters;
  const isEven = letters.size === 1 && step !== 0 && Math.abs(step!) <= 14;
  // By as many half steps for all notes, or by letters.
  const sizes = new Set(notes.slice(size).map((note, i) => reading.phrase.notes[note]!.midi - reading.phrase.notes[notes[i]!]!.midi));
  // What lies more than an octave away is an octave and the rest.
  const octave = Math.abs(step!) > 7 ? Math.sign(step!) : 0;
  const first = reading.phrase.notes[starts[1]!]!.midi - reading.phrase.notes[starts[0]!]!.midi;
  const foreign = foreignNotes(reading, notes);
  const apart = distance(
    step! - 7 * octave,
    sizes.size === 1 ? [...sizes][0]! - 12 * octave : null,
    foreign.length === 0 ? first - 12 * octave : null,
  );
  const way = isEven ? `, ${count > 2 ? 'each' : 'the second'} ${octave === 0 ? '' : 'an octave and '}${apart}` : '';
  const numbers = sameNumbers(reading, starts, size);
  const isOverOwn =
    numbers === '' &&
    count === 2 &&
    size > 2 &&
    starts.every(
      (start) =>
        isOverOneChord(reading, notesFrom(start)) && notesFrom(start).every((note) => reading.notes[note]!.placement!.role !== 'outside'),
    ) &&
    reading.notes[starts[0]!]!.placement!.span !== reading.notes[starts[1]!]!.placement!.span;
  const isStack = starts.every((start) => areStackedFourths(notesFrom(start).map((note) => reading.phrase.notes[note]!)));
  const shape = isStack ? ', stacked fourths,' : '';
  const against = `${isWrapping(reading, notes, size) ? ', each enclosing its last note' : ''}${againstMeter(reading, starts)}`;
  const told = (from: number): Words =>
    isOverOwn
      ? say`${statement(from)} (${lineFigures(reading, notesFrom(from))}${ofChord(reading, reading.notes[from]!.placement!)})`
      : [statement(from)];
  return size <= MOST_NAMED
    ? say`${listedWords(starts.map(told))}${shape} are a sequence${way}${numbers}${against}`
    : say`from ${noteName(reading, notes[0]!)} the line is a sequence of ${size} notes${way.replace('the second', 'the second time')}${sizes.size > 1 && count === 2 ? forNoteOfKey(reading, notes, foreign) : ''}${against}`;
}

/** Whether each of three statements or more encloses its last note: of two each enclosure is told. */
function isWrapping(reading: Reading, notes: readonly number[], size: number): boolean {
  return notes.length > size * 2 && wrappedInEach(reading, notes, size) === size - 1;
}

/** The place in the statements of a sequence, from 0, of the note that is enclosed in each of them; null where there is none. */
export function wrappedInEach(reading: Reading, notes: readonly number[], size: number): number | null {
  const isWrapped = notes.map((note, i) =>
    devicesAt(reading, note).some(({ kind, from, target }) => kind === 'enclosure' && target === note && from >= note - (i % size)),
  );
  const place = Array.from({ length: size }, (_, i) => i).find((one) => isWrapped.every((is, i) => i % size !== one || is));
  return place ?? null;
}

/** Statements after which it is heard that they go against the meter. */
const FEWEST_AGAINST = 3;
/** Beats of a bar that has but one division. */
const PLAIN_BARS = [2, 3, 4];
const COUNTED = ['', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'];

/** `, in units of three beats that move against the bar`: three statements or more of half beats, or of beats that do not fill bars nor part them evenly; empty elsewhere, and of the meters that have no one division. */
function againstMeter(reading: Reading, starts: readonly number[]): string {
  const [first, second] = starts.map((start) => reading.phrase.notes[start]!.onset);
  const places = placesOf(reading.phrase, reading.context);
  const [meter, ...others] = starts.map((start) => places.barAt(reading.phrase.notes[start]!.onset).meter) as [Meter, ...Meter[]];
  const halves = second!.sub(first!).div(meter.beat).mul(2);
  const isOneMeter = others.every(({ beats, unit }) => beats === meter.beats && unit === meter.unit);
  if (starts.length < FEWEST_AGAINST || !isOneMeter || meter.compound || !PLAIN_BARS.includes(meter.beatCount) || !halves.isWhole)
    return '';
  const count = Number(halves);
  const [beats, isHalf] = [COUNTED[Math.floor(count / 2)], count % 2 === 1];
  if (beats === undefined || beats === '') return '';
  if (isHalf) return `, in units of ${beats} and a half beats that move against the beat`;
  const isEven = meter.beatCount % (count / 2) === 0 || (count / 2) % meter.beatCount === 0;
  return isEven ? '' : `, in units of ${beats} beats that move against the bar`;
}

/** `, with F for the F# of the key`: the one note by which the second of two statements is no diatonic copy; empty where there are others, or none. */
function forNoteOfKey(reading: Reading, notes: readonly number[], foreign: readonly number[]): string {
  const [note] = foreign;
  const key = homeKey(reading);
  if (note === undefined || key === null || new Set(foreign.map((one) => noteName(reading, one))).size > 1) return '';
  const { letter } = reading.phrase.notes[note]!.pitch;
  const own = keyScale(key).tones.find(({ name }) => name.letter === letter);
  return notes.indexOf(note) < notes.length / 2 || own === undefined
    ? ''
    : `, with ${noteName(reading, note)} for the ${formatNoteName(own.name)} of the key`;
}

/** Whether all of some notes, one at least, are heard over the same chord; no note is over none. */
export function isOverOneChord(reading: Reading, notes: readonly number[]): boolean {
  const { placement } = reading.notes[notes[0]!]!;
  return placement !== null && notes.every((note) => reading.notes[note]!.placement?.span === placement.span);
}

/** `, each 1-2-3-5 of its chord`, where all statements are chord tones and natural tensions with the same numbers over chords of their own. */
function sameNumbers(reading: Reading, starts: readonly number[], size: number): string {
  const statements = starts.map((start) => Array.from({ length: size }, (_, i) => reading.notes[start + i]!.placement));
  const numbers = statements.map((statement) =>
    statement.every(
      (one) =>
        one !== null &&
        one.span === statement[0]!.span &&
        (one.role === 'chord-tone' || (one.role === 'tension' && one.called.alter === 0)),
    )
      ? statement.map((one) => one!.called.number).join('-')
      : null,
  );
  const isOwn = new Set(statements.map(([first]) => first?.span)).size === starts.length;
  if (!isOwn || numbers[0] === null || numbers.some((one) => one !== numbers[0])) return '';
  return `, each ${lineFigures(
    reading,
    Array.from({ length: size }, (_, i) => starts[0]! + i),
  ).replace(/[b#]/g, '')} of its chord`;
}

const TENSIONS: Readonly<Record<string, string>> = { b9: 'flat nine', '#9': 'sharp nine', '#11': 'sharp eleven', b13: 'flat thirteen' };

/** The tension by its sound, however it is spelled; by its degree where the chord writes a five there, or the letter says so. */
function tension(talk: Talk): string {
  const { placement } = talk.reading.notes[talk.notes[0]!]!;
  const isFive = placement?.called.number === 5;
  return isFive ? ownDegree(talk) : TENSIONS[talk.detail.split(' ')[0]!]!;
}

/** `the sharp nine and the flat nine fall to the root`: by step, one after another; null of any other tension. */
function bothNines(talk: Talk): Words | null {
  const { reading, notes, target: to } = talk;
  const [before, own, next] = [notes[0]! - 1, notes[0]!, to ?? notes[0]!];
  const isNine = (note: number, alter: number): boolean =>
    reading.notes[note]?.placement?.called.number === 9 && reading.notes[note].placement.called.alter === alter;
  const isByStep = next === own + 1 && reading.phrase.notes[before]?.midi === reading.phrase.notes[own]!.midi + 2;
  if (!isByStep || !isNine(before, 1) || !isNine(own, -1) || !isOverOneChord(reading, [before, own, next]) || way(talk) !== 'falls')
    return null;
  return say`the sharp nine and the flat nine${ofChordOf(talk)} fall to the ${targetDegree(talk)}`;
}

/** Spelled as a raised tone, and rising: it leads, whatever tension it sounds like. */
function isRaised(talk: Talk): boolean {
  const { reading, notes } = talk;
  const { placement } = reading.notes[notes[0]!]!;
  if (placement === null || way(talk) !== 'rises' || placement.role === 'chord-tone') return false;
  // A sharp five that is called b13 by its sound leads up as a raised tone, too.
  const letters = shiftBetween(reading.phrase.spans[placement.span]!.chord!.root, nameOf(reading.phrase.notes[notes[0]!]!.pitch)).diatonic;
  return isWrittenStrangely(reading, notes[0]!, placement) || letters !== (placement.called.number - 1) % 7;
}

function way({ reading, notes, target: to }: Talk): string {
  return to !== null && reading.phrase.notes[to]!.midi > reading.phrase.notes[notes[0]!]!.midi ? 'rises' : 'falls';
}

/** Within one chord the degree alone. */
function tensionTarget(talk: Talk): Words {
  const { reading, notes, target: to } = talk;
  const [own, other] = [reading.notes[notes[0]!]!.placement, to === null ? null : reading.notes[to]!.placement];
  return own !== null && other !== null && own.span === other.span ? [`the ${targetDegree(talk)}`] : target(talk);
}

/** `A is held into Gm7 as its ninth`, where one note is; else it is struck again. */
function kept(talk: Talk): Words {
  const { reading, notes } = talk;
  const own = reading.notes[notes[0]!]!.placement;
  const later = reading.notes[notes[notes.length - 1]!]!.soundings.at(-1)?.placement;
  if (later === undefined || later.span === own?.span) return say`${first(talk)} is kept from the chord before`;
  return say`${first(talk)} is held into ${theChord(reading, later)} as its ${degreeWords(reading, later)}`;
}

function heldOver(talk: Talk): Words {
  return talk.detail === 'into a chord'
    ? say`${first(talk)} is held into ${targetChord(talk)} as its ${targetDegree(talk)}`
    : say`${first(talk)} is held over the bar line`;
}
