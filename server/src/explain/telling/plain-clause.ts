/** Plain notes as a clause: a line one way, notes that weave through a chord, one note. */
import { ADDED } from '../../analysis/devices/bebop-line';
import { devicesAt } from '../../analysis/devices/read';
import type { ChordPlacement, Reading } from '../../analysis/types';
import { isLeap } from '../../analysis/vocabulary';
import { beatWords, numberWord } from '../../rules/words';
import { asDiminished, FEW, isOverOneChord, talkOf } from '../device-words';
import { degreeWords, inRole, listed, noteName, noteNames, ofChord, theChord } from '../note-words';
import { say, type Words } from '../say';
import { areStackedFourths } from '../stacked-fourths';
import { wholeScale } from '../whole-scale';
import type { PlainTold } from './clause';
import { figures } from './counted';
import { arrival, isCadence, isLanding, isUpbeat } from './landings';
import { inThirds, withNeighbour } from './neighbours';
import { goesOnFromTarget, halfStepsAround, isFromPeak, octaveAfter } from './reach';
import { repeatsOf } from './repeats';
import { isAstray, isByHalfSteps, mostFigures, notesIn, type Stretch } from './stretch';
import { isSpelledOut } from './unsaid';

/** Notes of a stretch, from where they are told on, and what is looked up again and again. */
interface PlainNotes {
  readonly stretch: Stretch;
  readonly from: number;
  /** Each pitch that is struck again once. */
  readonly notes: readonly number[];
  readonly motion: 'climbs' | 'falls';
}

export function plainTold(reading: Reading, stretch: Stretch, before: Stretch | null): PlainTold {
  const { to, as } = stretch;
  const from = firstTold(reading, stretch, before);
  const { notes } = talkOf({ notes: notesIn({ from, to }), target: null, detail: '' }, reading);
  const next = reading.phrase.notes[to + 1];
  if (reading.phrase.notes[to]!.bar === 0 && next !== undefined && next.bar > 0)
    return { words: pickupWords(reading, notes, next.index), tellsEnd: false, target: next.index };
  if (notes.length === 1) return oneNote(reading, from, to);
  const [first, last] = [reading.phrase.notes[notes[0]!]!, reading.phrase.notes[notes[notes.length - 1]!]!];
  const plain: PlainNotes = { stretch, from, notes, motion: last.midi > first.midi ? 'climbs' : 'falls' };
  const { placement } = reading.notes[from]!;
  if (placement === null) return overNoChord(reading, plain);
  if (notes.length > mostFigures(as)) return amongFew(reading, notes) ?? { words: moves(reading, notes), tellsEnd: true };
  return (
    byHalfSteps(reading, plain) ??
    withNeighbour(reading, stretch) ??
    intoRest(reading, plain) ??
    inBebopScale(reading, plain) ??
    withFigures(reading, plain, placement)
  );
}

/** The note before is told with those that go on from it. A peak belongs to the figures that have told it, but two notes after it are no line of their own. */
function firstTold(reading: Reading, stretch: Stretch, before: Stretch | null): number {
  const isAfterFigures = before !== null && before.as !== 'plain' && before.to === stretch.from - 1 && isSpelledOut(before);
  const isPeakTold = stretch.to > stretch.from + 1 && isAfterFigures && isFromPeak(reading, stretch);
  return goesOnFromTarget(reading, stretch) && !isPeakTold ? stretch.from - 1 : stretch.from;
}

function overNoChord(reading: Reading, { stretch: { as }, notes, motion }: PlainNotes): PlainTold {
  const [first, last] = [notes[0]!, notes[notes.length - 1]!];
  const names = notes.length > FEW ? `${noteName(reading, first)} to ${noteName(reading, last)}` : noteNames(reading, notes);
  return { words: say`${names} ${as === 'line' || notes.length === 2 ? motion : 'stands alone'}`, tellsEnd: false };
}

function byHalfSteps(reading: Reading, { stretch: { to, as }, from, motion }: PlainNotes): PlainTold | null {
  if (!isByHalfSteps(reading, { from, to, as })) return null;
  const whole = halfStepsAround(reading, from, to);
  return { words: say`${inRole(reading, whole.from)}, ${motion} by half steps to ${noteName(reading, whole.to)}`, tellsEnd: true };
}

/** The last half step, or a short note or two into a longer one. */
function intoRest(reading: Reading, { stretch, from, motion }: PlainNotes): PlainTold | null {
  const { to } = stretch;
  if (from !== stretch.from || isMotif(reading, stretch)) return null;
  if (isCadence(reading, stretch))
    return { words: say`${noteName(reading, from)} ${motion === 'climbs' ? 'rises' : 'falls'} to ${inRole(reading, to)}`, tellsEnd: true };
  return isUpbeat(reading, stretch) ? arrival(reading, { from, to }, to) : null;
}

/** A bebop scale that is told of the whole line is no figure: where it goes is. */
function inBebopScale(reading: Reading, { stretch: { to, as }, from, notes, motion }: PlainNotes): PlainTold | null {
  if (as !== 'line' || notes.length <= FEW_BY_STEP || !isBebop(reading) || !isByStep(reading, notes)) return null;
  const octave = octaveAfter(reading, from, to);
  const end =
    octave === null ? say`to ${inRole(reading, notes[notes.length - 1]!)}` : say`through an octave to ${noteName(reading, octave)}`;
  return {
    words: say`${motion === 'climbs' ? 'up' : 'down'} the scale from ${inRole(reading, from)}, ${end}`,
    tellsEnd: true,
    target: octave,
  };
}

/** `D-F-A climbs 1-b3-5 of Dm7`, `weaves through Dm7 (1-5-b3)`. */
function withFigures(reading: Reading, { stretch, from, notes, motion }: PlainNotes, placement: ChordPlacement): PlainTold {
  if (stretch.as === 'line' || from < stretch.from || notes.length === 2) {
    const last = notes.length - 1;
    // What passes on into the next chord belongs to that; a figure is left of three notes at least.
    const own = notes.filter((note, i) => i === 0 || (i === last && notes.length <= FEWEST_OF_FIGURE) || !passes(reading, note));
    const degrees = say`${figures(reading, own)}${ofChord(reading, placement)}${asDiminished({ reading, notes: own })}`;
    const isStack = own.length === notes.length && areStackedFourths(notes.map((note) => reading.phrase.notes[note]!));
    return {
      words: say`${noteNames(reading, own)} ${motion} ${isStack ? say`in stacked fourths (${degrees})` : degrees}`,
      tellsEnd: false,
    };
  }
  const thirds = inThirds(reading, notes);
  if (thirds !== null) return { words: thirds, tellsEnd: false };
  if (isMotif(reading, stretch))
    return { words: say`${noteNames(reading, notes)} is ${figures(reading, notes)}${ofChord(reading, placement)}`, tellsEnd: false };
  const isChordal = notes.every((note) => reading.notes[note]!.placement?.role === 'chord-tone');
  const does = isChordal ? 'outlines' : 'weaves through';
  return { words: say`${noteNames(reading, notes)} ${does} ${theChord(reading, placement)} (${figures(reading, notes)})`, tellsEnd: false };
}

const FEWEST_OF_FIGURE = 3;

/** Whether notes are what bars after them do again: then one wants to know them. */
function isMotif(reading: Reading, { from, to }: Stretch): boolean {
  return from < to && repeatsOf(reading).some(({ model }) => model[0] === from && model[model.length - 1] === to);
}

/** Figures of a scale that tell something still. */
const FEW_BY_STEP = 4;

function isBebop(reading: Reading): boolean {
  const whole = wholeScale(reading);
  return whole !== null && ADDED[whole.name] !== undefined;
}

function isByStep({ phrase }: Reading, notes: readonly number[]): boolean {
  return notes.every((note, i) => i === 0 || !isLeap(phrase.notes[notes[i - 1]!]!, phrase.notes[note]!));
}

/** `the line moves from Bb, the fifth of Eb7, to G, the third`; where it comes back, to the note farthest away and back. */
function moves(reading: Reading, notes: readonly number[]): Words {
  const [first, last] = [notes[0]!, notes[notes.length - 1]!];
  const away = (note: number): number => Math.abs(reading.phrase.notes[note]!.midi - reading.phrase.notes[first]!.midi);
  // An octave has the same name.
  const farthest = notes.filter((note) => away(note) % 12 !== 0).reduce((one, other) => (away(other) > away(one) ? other : one), first);
  return say`the line moves from ${inRole(reading, first)}, to ${away(last) === 0 ? say`${inRole(reading, farthest)}, and back` : inRole(reading, last)}`;
}

/** Pitches of a riff that can be told at once. */
const FEW_PITCHES = 4;

/** `the line stays on G, Bb and C, 3-5-6 of Eb7`: many notes of few pitches, over one chord, from the lowest; null of others, and where two of them have one name. */
function amongFew(reading: Reading, notes: readonly number[]): PlainTold | null {
  const { phrase } = reading;
  const pitches = [...new Map([...notes].reverse().map((note) => [phrase.notes[note]!.midi, note])).values()].sort(
    (a, b) => phrase.notes[a]!.midi - phrase.notes[b]!.midi,
  );
  if (
    !isOverOneChord(reading, notes) ||
    pitches.length > FEW_PITCHES ||
    new Set(pitches.map((note) => phrase.notes[note]!.midi % 12)).size < pitches.length
  )
    return null;
  return {
    words: say`the line ${pitches.length === 2 ? 'goes between' : 'stays on'} ${listed(pitches.map((note) => noteName(reading, note)))}, ${figures(reading, pitches)}${ofChord(reading, reading.notes[notes[0]!]!.placement!)}`,
    tellsEnd: false,
  };
}

/** The last notes of a pickup: `A and B lead into C, the root of C7`. */
function pickupWords(reading: Reading, notes: readonly number[], next: number): Words {
  const isMany = notes.length > 3;
  const sizes = [...notes, next].slice(1).map((note, i) => reading.phrase.notes[note]!.midi - reading.phrase.notes[notes[i]!]!.midi);
  const byHalfSteps = notes.length > 1 && sizes.every((size) => size === sizes[0]) && Math.abs(sizes[0]!) === 1 ? ' by half steps' : '';
  return say`${isMany ? noteNames(reading, notes) : listed(notes.map((note) => noteName(reading, note)))} ${isMany || notes.length === 1 ? 'leads' : 'lead'}${byHalfSteps} into ${inRole(reading, next)}`;
}

/** One note, struck once or more. */
function oneNote(reading: Reading, from: number, to: number): PlainTold {
  if (isLanding(reading, to)) {
    const { placement } = reading.notes[to]!;
    if (placement?.role !== 'avoid' || to === reading.phrase.notes.length - 1) return arrival(reading, { from, to }, from);
    return {
      words: say`${noteName(reading, from)}, the ${degreeWords(reading, placement)}${ofChord(reading, placement)}, rubs${rubbedOf(reading, to)} on ${beatWords(reading.phrase.notes[from]!.beat)} and goes on to ${noteName(reading, to + 1)}`,
      tellsEnd: true,
    };
  }
  const struck = to === from ? '' : `, is struck ${to - from === 1 ? 'twice' : `${to - from + 1} times`}`;
  return { words: say`${inRole(reading, from)}${struck}`, tellsEnd: to === from };
}

/** ` against the third`: the chord tone below an avoid note. */
function rubbedOf({ notes }: Reading, note: number): string {
  const against = notes[note]!.placement!.against;
  return against === null ? '' : ` against the ${numberWord(against)}`;
}

/** A chromatic note that passes is told as that, and is no degree of its chord. */
function passes(reading: Reading, note: number): boolean {
  return (
    reading.notes[note]!.placement?.role === 'outside' &&
    isAstray(reading, note) &&
    devicesAt(reading, note).some(({ kind }) => kind === 'passing-tone')
  );
}
