/** A stretch as a clause: what it is, in the order in which it is heard. */
import { ADDED } from '../../analysis/devices/bebop-line';
import type { Device } from '../../analysis/devices/device';
import { placesOf } from '../../analysis/places';
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { chordUnder, isJoined, isLeap } from '../../analysis/vocabulary';
import { chroma } from '../../theory/pitch';
import { groupedBy } from '../../model/grouped';
import { beatWords, numberWord } from '../../rules/words';
import { FEW, isOverOneChord, OCTAVE, plainCell, talkOf, wordsOf } from '../device-words';
import { chordName, degreeWords, distance, figures as tensionFigures, inRole, listed, noteName, noteNames, ofChord, theChord } from '../note-words';
import { endsOn, listedWords, say, type Words } from '../say';
import { isOnHome, SCALE_LINES, wholeScale } from '../whole-scale';
import { breathAfter } from './breath';
import { beginsBebop, FIGURED } from './candidates';
import { harmonicMinorTold } from './harmonic-minor';
import { newMeaning } from './harmony-points';
import { isInPlace, repeatsOf, type Repeat } from './repeats';
import { isAstray, isByHalfSteps, isFlagged, mostFigures, notesIn, turnsBefore, type Stretch } from './stretch';
import { stretchesOf } from './stretches';
import { isSpelledOut } from './unsaid';

export interface Clause {
  /** Without its verb. */
  readonly words: Words;
  /** 0 to 10. */
  readonly weight: number;
  /** The verb that comes before the words, with its space; it is left out where the clause before has the same. */
  readonly verb?: string;
  /** Whether it says all there is to say of its notes, their figures among them. */
  readonly plain: boolean;
  /** The note after its own to which it goes on, named at its end; null where it leads nowhere. */
  readonly target: number | null;
  /** What is added where nothing else tells the last note: ` and comes to rest on F, the fifth`. */
  readonly rest: Words;
}

/** `before` is the stretch before, in the same bar. */
export function clauseOf(reading: Reading, stretch: Stretch, before: Stretch | null): Clause {
  if (stretch.repeat !== null) return stretch.from === stretch.repeat.from ? { words: say`${repeated(reading, stretch.repeat)}${stretch.repeat.partial ? restOf(reading, stretch) : []}`, weight: 8, plain: false, target: null, rest: [] } : { words: [], weight: 0, plain: false, target: null, rest: [] };
  if (stretch.device !== null) return deviceClause(reading, stretch, stretch.device);
  const { tellsEnd, target = null, ...plain } = plainTold(reading, stretch, before);
  const told = { ...plain, words: stretch.as === 'line' ? inHarmonicMinor(reading, stretch, plain.words) : plain.words };
  const lands = (stretch.from === stretch.to && isLanding(reading, stretch.to)) || isUpbeat(reading, stretch);
  return { ...told, weight: weightOfPlain(reading, stretch, lands), plain: true, target, rest: tellsEnd ? [] : restOf(reading, stretch) };
}

/** `B-Ab-G-Eb falls 3-b9-1-b13 of G7b9, in C harmonic minor`. */
function inHarmonicMinor(reading: Reading, stretch: Pick<Stretch, 'from' | 'to'>, words: Words): Words {
  const scale = stretch.to === reading.phrase.notes.length - 1 ? null : harmonicMinorTold(reading, stretch);
  return scale === null ? words : say`${words}, in ${scale}`;
}

function weightOfPlain(reading: Reading, stretch: Stretch, lands: boolean): number {
  const size = stretch.to - stretch.from + 1;
  if (lands) return 6;
  if (stretch.as === 'line' || goesOnFromTarget(reading, stretch) || isCadence(reading, stretch)) return 4;
  return size > mostFigures('plain') || size < 4 ? 1 : 3;
}

function deviceClause(reading: Reading, { from, to }: Stretch, device: Device): Clause {
  const { clause, weight } = wordsOf(device.kind);
  const hasTarget = device.target !== null && device.target <= to && device.target >= from;
  // A run over one chord is told from its first note, though another figure ends there, and to its last.
  const isOver = (note: number, other: number): boolean => reading.notes[note]!.placement?.span === reading.notes[other]!.placement?.span && reading.phrase.notes[note]!.bar === reading.phrase.notes[other]!.bar;
  const own = device.notes.filter((note) => (note >= from && note <= to) || (device.kind === 'scale-run' && (isOver(note, note < from ? from : to) || (note === to + 1 && isGoal(reading, note) && reading.notes[to]!.placement?.role !== 'chord-tone'))));
  const octave = device.kind === 'scale-run' && !own.includes(to + 1) && device.notes.includes(to + 1) ? octaveAfter(reading, own[0]!, to) : null;
  if (octave !== null) own.push(octave);
  const whole = device.kind === 'chromatic-run' ? halfStepsAround(reading, device.from, device.target ?? device.to) : null;
  // A device that stops short of its target says it all the same: the target begins what follows.
  const words = clause(talkOf(whole === null ? { ...device, notes: own, comesAgain: isCellAgain(reading, device) } : { ...device, notes: notesIn(whole), target: whole.to }, reading));
  const tellsEnd = FIGURED.has(device.kind) ? endsOn(words) === to : !SCALE_LINES.has(device.kind);
  const told = FIGURED.has(device.kind) ? inHarmonicMinor(reading, { from, to }, words) : words;
  return { words: hasTarget && whole === null ? say`${told}${landing(reading, from, to)}` : octave !== null ? say`${told} to ${noteName(reading, octave)}` : told, weight, plain: false, target: octave, rest: tellsEnd ? [] : restOf(reading, { from, to, device }) };
}

/** The note after a run that is its first an octave away, by step and over the same chord; null where there is none. */
function octaveAfter({ phrase, notes }: Reading, first: number, last: number): number | null {
  const [low, own, next] = [phrase.notes[first]!, phrase.notes[last]!, phrase.notes[last + 1]];
  if (next === undefined || notes[next.index]!.placement?.span !== notes[first]!.placement?.span || !isJoined(own, next)) return null;
  return Math.abs(next.midi - low.midi) === OCTAVE && !isLeap(own, next) && Math.sign(next.midi - own.midi) === Math.sign(next.midi - low.midi) ? next.index : null;
}

/** Bars in which a cell is still in the ear. */
const STILL_HEARD = 2;

/** Whether a cell with a step in it, 1-2-3-5 of any chord, comes again at its place in a bar over another chord, in a bar that is not told as another one moved. */
function isCellAgain(reading: Reading, { kind, from, notes, detail }: Device): boolean {
  const numbersOf = (cell: Pick<Device, 'detail'>): string => plainCell(cell).replace(/[b#]/g, '');
  if (kind !== 'cell' || !numbersOf({ detail }).split('-').includes('2')) return false;
  const own = reading.phrase.notes[from]!;
  const symbolAt = (note: number): string | undefined => reading.phrase.spans[reading.notes[note]!.placement?.span ?? -1]?.symbol;
  if (repeatedBars(reading).has(own.bar)) return false;
  const before = Array.from({ length: STILL_HEARD }, (_, i) => cellsByBar(reading).get(own.bar - 1 - i) ?? []).flat();
  return before.some((other) => {
    const { beat } = reading.phrase.notes[other.from]!;
    const isSame = other.notes.length === notes.length && numbersOf(other) === numbersOf({ detail }) && symbolAt(other.from) !== symbolAt(from);
    return isSame && beatWords(beat) === beatWords(own.beat);
  });
}

const cellsByBar = ofReading((reading) => groupedBy(devicesOf(reading).filter(({ kind }) => kind === 'cell'), ({ from }) => [reading.phrase.notes[from]!.bar]));
const repeatedBars = ofReading((reading): ReadonlySet<number> => new Set(repeatsOf(reading).map(({ from }) => reading.phrase.notes[from]!.bar)));

/** A note that the line comes to rest on. */
function isLanding(reading: Reading, note: number): boolean {
  const own = reading.phrase.notes[note]!;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  return breathAfter(reading, note) && own.duration.compare(beat) >= 0;
}

/** A chord tone at a change of chord: a run leads there though another figure begins with it. */
function isGoal(reading: Reading, note: number): boolean {
  const [before, own] = [reading.notes[note - 1]?.placement, reading.notes[note]!.placement];
  return own !== null && own.role === 'chord-tone' && before != null && before.span !== own.span;
}

/** All notes that go on by half steps one way, before and after some that do: another figure may begin or end among them. A bebop scale takes its own. */
function halfStepsAround(reading: Reading, from: number, to: number): { readonly from: number; readonly to: number } {
  const { notes } = reading.phrase;
  const way = Math.sign(notes[to]!.midi - notes[from]!.midi);
  const goesOn = (one: number): boolean => notes[one + 1] !== undefined && notes[one + 1]!.midi - notes[one]!.midi === way && isJoined(notes[one]!, notes[one + 1]!);
  let [first, last] = [from, to];
  while (first > 0 && goesOn(first - 1)) first -= 1;
  while (goesOn(last) && !beginsBebop(reading, last)) last += 1;
  return { from: first, to: last };
}

/** How the line comes to rest on the last note of the phrase: ` and comes to rest on F, the fifth`; empty where it does not. */
function restOf(reading: Reading, { from, to, device }: Pick<Stretch, 'from' | 'to' | 'device'>): Words {
  const { notes } = reading.phrase;
  const { placement } = reading.notes[to]!;
  if (to !== notes.length - 1 || placement === null || !isLanding(reading, to)) return [];
  // What is told by its scale has named no chord.
  if (device !== null && SCALE_LINES.has(device.kind)) return say`, and comes to rest on ${inRole(reading, to)}`;
  // Figures have named the last note: it is told again where it is held longer than the one before.
  const isHeld = to - from >= 2 && (notes[to]!.duration.compare(notes[to - 1]!.duration) > 0 || breathAfter(reading, to - 1));
  return isHeld ? say` and comes to rest on ${noteName(reading, to)}, the ${degreeWords(reading, placement)}` : [];
}

function landing(reading: Reading, from: number, note: number): string {
  return note === reading.phrase.notes.length - 1 && isLanding(reading, note) ? `, on ${beatWords(reading.phrase.notes[note]!.beat)}${reading.phrase.notes[from]!.bar === reading.phrase.notes[note]!.bar ? '' : ` of bar ${reading.phrase.notes[note]!.bar}`}` : '';
}

/** What begins a phrase lands nowhere, nor does what only leaves a note that clashes; after one with a mere remark, which passes, the line does land. */
function landingVerb({ notes, phrase }: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): string {
  if (from > 0 && from === to && notes[from - 1]!.verdict?.level === 'warning') return 'goes ';
  if (from > 0 && from === to && isTail(phrase, from)) return 'ends ';
  return from === 0 && to === from ? 'starts ' : to > from ? 'comes to rest ' : 'lands ';
}

/** A short note or two into a longer one on which the line comes to rest, and which it did not come from. */
function isUpbeat(reading: Reading, { from, to, as }: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  const { notes } = reading.phrase;
  // At the end of the phrase it comes to rest though it came from there.
  return as === 'plain' && to > from && to - from <= 2 && isLanding(reading, to) && notes[to]!.duration.compare(notes[from]!.duration) > 0 && (notes[from - 1]?.midi !== notes[to]!.midi || (to === notes.length - 1 && !isLanding(reading, from - 1)));
}

/** The last two notes, a half step into a chord tone. */
function isCadence(reading: Reading, { from, to, as }: Stretch): boolean {
  const { notes } = reading.phrase;
  return as === 'plain' && to === from + 1 && to === notes.length - 1 && Math.abs(notes[to]!.midi - notes[from]!.midi) === 1 && reading.notes[to]!.placement?.role === 'chord-tone';
}

/** The last note, after a rest, of a bar in which the line has arrived. */
function isTail({ notes }: Reading['phrase'], note: number): boolean {
  const [before, own] = [notes[note - 1]!, notes[note]!];
  return note === notes.length - 1 && before.bar === own.bar && !isJoined(before, own);
}

/** ` against the third`: the chord tone below an avoid note. */
function rubbedOf({ notes }: Reading, note: number): string {
  const against = notes[note]!.placement!.against;
  return against === null ? '' : ` against the ${numberWord(against)}`;
}

/** `, from D a step below`: how the last note is reached by a whole step over the change, or from the colour of a mode; a half step is told where it begins. */
function stepInto(reading: Reading, note: number): string {
  const [before, own] = [reading.phrase.notes[note - 1], reading.phrase.notes[note]!];
  if (before === undefined || note !== reading.phrase.notes.length - 1) return '';
  const size = own.midi - before.midi;
  const isOverChange = reading.notes[note - 1]!.placement?.span !== reading.notes[note]!.placement?.span && !breathAfter(reading, note - 1) && !devicesAt(reading, note).some(({ target }) => target === note);
  const isFromColour = isJoined(before, own) && devicesAt(reading, note - 1).some(({ kind }) => kind === 'modal-colour');
  return Math.abs(size) === 2 && (isOverChange || isFromColour) ? `, from ${noteName(reading, note - 1)} a step ${size > 0 ? 'below' : 'above'}` : '';
}

/** In a scale that is told, notes count as the scale's: 1-b3-4-5-b7; so they do by step beside a cell that counts so. */
function figures(reading: Reading, notes: readonly number[]): string {
  const written = tensionFigures(reading, notes);
  const whole = wholeScale(reading);
  const chord = chordUnder(reading, notes[0]!);
  const isOfScale = whole !== null && (isOnHome(reading) || (chord !== null && chroma(chord.root) === chroma(whole.root)));
  return isOfScale || isSecondToldAgain(reading, notes) ? written.split('-').map((one) => OF_SCALE[one] ?? one).join('-') : written;
}

/** Whether a ninth, eleventh or thirteenth by step from its neighbour counts as 2, 4 or 6: over the same chord a 2 was told, in 1-2-3-5. */
function isSecondToldAgain(reading: Reading, notes: readonly number[]): boolean {
  const { phrase, notes: read } = reading;
  return spansWithSecond(reading).has(read[notes[0]!]!.placement?.span ?? -1) && notes.some((note, i) => {
    const called = read[note]!.placement?.called;
    return called !== undefined && called.number > 7 && called.alter === 0 && [notes[i - 1], notes[i + 1]].some((other) => other !== undefined && !isLeap(phrase.notes[note]!, phrase.notes[other]!));
  });
}

const spansWithSecond = ofReading((reading): ReadonlySet<number> => new Set(stretchesOf(reading).flatMap(({ device, from }) => {
  const span = reading.notes[from]!.placement?.span;
  return device?.kind === 'cell' && span !== undefined && /(?:^|-)2(?:-|$| )/.test(device.detail) ? [span] : [];
})));

const OF_SCALE: Readonly<Record<string, string>> = { '9': '2', '11': '4', '13': '6', b13: 'b6' };

/** Figures of a scale that tell something still. */
const FEW_BY_STEP = 4;

function isBebop(reading: Reading): boolean {
  const whole = wholeScale(reading);
  return whole !== null && ADDED[whole.name] !== undefined;
}

function isByStep({ phrase }: Reading, notes: readonly number[]): boolean {
  return notes.every((note, i) => i === 0 || !isLeap(phrase.notes[notes[i - 1]!]!, phrase.notes[note]!));
}

/** What is told of plain notes. */
interface PlainTold extends Pick<Clause, 'words' | 'verb'> {
  /** Whether the words tell what the last note is. */
  readonly tellsEnd: boolean;
  /** As in a clause. */
  readonly target?: number | null;
}

function plainTold(reading: Reading, stretch: Stretch, before: Stretch | null): PlainTold {
  const { to, as } = stretch;
  // The peak belongs to the figures that have told it, but two notes after it are no line of their own.
  const isPeakTold = to > stretch.from + 1 && before !== null && before.as !== 'plain' && before.to === stretch.from - 1 && isSpelledOut(before) && isFromPeak(reading, stretch);
  const from = stretch.from - (goesOnFromTarget(reading, stretch) && !isPeakTold ? 1 : 0);
  const { notes } = talkOf({ notes: notesIn({ from, to }), target: null, detail: '' }, reading);
  const { phrase } = reading;
  const last = notes[notes.length - 1]!;
  const next = phrase.notes[to + 1];
  if (phrase.notes[to]!.bar === 0 && next !== undefined && next.bar > 0) return { words: pickupWords(reading, notes, next.index), tellsEnd: false, target: next.index };
  if (notes.length === 1) return oneNote(reading, from, to);
  const motion = phrase.notes[last]!.midi > phrase.notes[notes[0]!]!.midi ? 'climbs' : 'falls';
  const { placement } = reading.notes[from]!;
  if (placement === null) return { words: say`${notes.length > FEW ? `${noteName(reading, from)} to ${noteName(reading, last)}` : noteNames(reading, notes)} ${as === 'line' || notes.length === 2 ? motion : 'stands alone'}`, tellsEnd: false };
  if (notes.length > mostFigures(as)) return amongFew(reading, notes) ?? { words: moves(reading, notes), tellsEnd: true };
  if (isByHalfSteps(reading, { from, to, as })) {
    const whole = halfStepsAround(reading, from, to);
    return { words: say`${inRole(reading, whole.from)}, ${motion} by half steps to ${noteName(reading, whole.to)}`, tellsEnd: true };
  }
  if (isCadence(reading, stretch) && from === stretch.from) return { words: say`${noteName(reading, from)} ${motion === 'climbs' ? 'rises' : 'falls'} to ${inRole(reading, to)}`, tellsEnd: true };
  if (isUpbeat(reading, stretch) && from === stretch.from) return arrival(reading, { from, to }, to);
  // A bebop scale that is told of the whole line is no figure: where it goes is.
  if (as === 'line' && notes.length > FEW_BY_STEP && isBebop(reading) && isByStep(reading, notes)) {
    const octave = octaveAfter(reading, from, to);
    return { words: say`${motion === 'climbs' ? 'up' : 'down'} the scale from ${inRole(reading, from)}, ${octave === null ? say`to ${inRole(reading, last)}` : say`through an octave to ${noteName(reading, octave)}`}`, tellsEnd: true, target: octave };
  }
  const chord = ofChord(reading, placement);
  if (as === 'line' || from < stretch.from || notes.length === 2) {
    const own = notes.filter((note, i) => i === 0 || i === notes.length - 1 || !passes(reading, note));
    return { words: say`${noteNames(reading, own)} ${motion}${isInFourths(reading, notes) ? ' in fourths,' : ''} ${figures(reading, own)}${chord}`, tellsEnd: false };
  }
  const isChordal = notes.every((note) => reading.notes[note]!.placement?.role === 'chord-tone');
  return { words: say`${noteNames(reading, notes)} ${isChordal ? 'outlines' : 'weaves through'} ${theChord(reading, placement)} (${figures(reading, notes)})`, tellsEnd: false };
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

/** `the line stays on G, Bb and C, 3-5-13 of Eb7`: many notes of few pitches, over one chord, from the lowest; null of others, and where two of them have one name. */
function amongFew(reading: Reading, notes: readonly number[]): PlainTold | null {
  const { phrase } = reading;
  const pitches = [...new Map([...notes].reverse().map((note) => [phrase.notes[note]!.midi, note])).values()].sort((a, b) => phrase.notes[a]!.midi - phrase.notes[b]!.midi);
  if (!isOverOneChord(reading, notes) || pitches.length > FEW_PITCHES || new Set(pitches.map((note) => phrase.notes[note]!.midi % 12)).size < pitches.length) return null;
  return { words: say`the line ${pitches.length === 2 ? 'goes between' : 'stays on'} ${listed(pitches.map((note) => noteName(reading, note)))}, ${figures(reading, pitches)}${ofChord(reading, reading.notes[notes[0]!]!.placement!)}`, tellsEnd: false };
}

/** The last notes of a pickup: `A and B lead into C, the root of C7`. */
function pickupWords(reading: Reading, notes: readonly number[], next: number): Words {
  const isMany = notes.length > 3;
  return say`${isMany ? noteNames(reading, notes) : listed(notes.map((note) => noteName(reading, note)))} ${isMany || notes.length === 1 ? 'leads' : 'lead'} into ${inRole(reading, next)}`;
}

/** One note, struck once or more. */
function oneNote(reading: Reading, from: number, to: number): PlainTold {
  if (isLanding(reading, to)) {
    const { placement } = reading.notes[to]!;
    if (placement?.role !== 'avoid' || to === reading.phrase.notes.length - 1) return arrival(reading, { from, to }, from);
    return { words: say`${noteName(reading, from)}, the ${degreeWords(reading, placement)}${ofChord(reading, placement)}, rubs${rubbedOf(reading, to)} on ${beatWords(reading.phrase.notes[from]!.beat)} and goes on to ${noteName(reading, to + 1)}`, tellsEnd: true };
  }
  const struck = to === from ? '' : `, is struck ${to - from === 1 ? 'twice' : `${to - from + 1} times`}`;
  return { words: say`${inRole(reading, from)}${struck}`, tellsEnd: to === from };
}

/** `lands on F, the fifth of Bb7, on beat 1`. */
function arrival(reading: Reading, stretch: Pick<Stretch, 'from' | 'to'>, note: number): PlainTold {
  const verb = landingVerb(reading, stretch);
  return { verb, words: say`${verb === 'goes ' ? 'to' : 'on'} ${inRole(reading, note)}, on ${beatWords(reading.phrase.notes[note]!.beat)}${stretch.from === note ? stepInto(reading, note) : ''}`, tellsEnd: true };
}

/** `comes to rest on C, the root of Cm7, on beat 3`: the last note of the phrase, where all before it was told; null where the line does not rest there. */
export function landingAtEnd(reading: Reading, note: number): Pick<Clause, 'words' | 'verb'> | null {
  if (note !== reading.phrase.notes.length - 1 || reading.notes[note]!.placement === null || !isLanding(reading, note)) return null;
  const { tellsEnd: _, ...told } = arrival(reading, { from: note - 1, to: note }, note);
  return told;
}

/** A chromatic note that passes is told as that, and is no degree of its chord. */
function passes(reading: Reading, note: number): boolean {
  return reading.notes[note]!.placement?.role === 'outside' && isAstray(reading, note) && devicesAt(reading, note).some(({ kind }) => kind === 'passing-tone');
}

const FOURTH = 5;

function isInFourths({ phrase }: Reading, notes: readonly number[]): boolean {
  return notes.length > 2 && notes.slice(1).every((note, i) => Math.abs(phrase.notes[note]!.midi - phrase.notes[notes[i]!]!.midi) === FOURTH);
}

/** Two notes that go on from a peak or a low point; a short one into a long one is told by where it comes to rest. */
export function isFromPeak(reading: Reading, stretch: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  return stretch.as === 'plain' && stretch.to === stretch.from + 1 && turnsBefore(reading, stretch.from) && !isFlagged(reading, stretch.from - 1) && !isUpbeat(reading, stretch);
}

/** Whether two or three notes go on one way from the note before, which a device led to, or on which the line turned: E-C-A, of which E was the target or the peak. */
function goesOnFromTarget(reading: Reading, { from, to, as }: Stretch): boolean {
  if (isFromPeak(reading, { from, to, as })) return true;
  const { phrase } = reading;
  const [target, first, last] = [phrase.notes[from - 1], phrase.notes[from]!, phrase.notes[to]!];
  if (as !== 'line' && as !== 'plain') return false;
  const size = to - from + 1;
  if (target === undefined || size < 2 || size > 3 || breathAfter(reading, from - 1) || !devicesAt(reading, from - 1).some((device) => device.target === from - 1)) return false;
  if (target.bar !== first.bar || reading.notes[from - 1]!.placement?.span !== reading.notes[from]!.placement?.span) return false;
  const notes = phrase.notes.slice(from - 1, to + 1);
  const way = Math.sign(last.midi - target.midi);
  return way !== 0 && notes.every((note, i) => i === 0 || Math.sign(note.midi - notes[i - 1]!.midi) === way);
}

/** `the same a step lower over C7`. */
function repeated(reading: Reading, repeat: Repeat): Words {
  const { copy, model, changed, starts, of, partial } = repeat;
  const isOverSame = of !== null && chordsOver(reading, copy).join() === chordsOver(reading, model).join();
  const isToldOver = reading.notes[copy[0]!]!.placement !== null && !isOverSame;
  const chords = chordWords(reading, copy);
  const now = isToldOver ? figuresNow(reading, repeat) : null;
  if (partial) return say`it begins like bar ${of!}${now !== null ? say`, now ${now}` : isToldOver ? say`, over ${chords}` : []}`;
  const more = starts.slice(1).map((start) => chordWords(reading, [start]));
  const over = isToldOver ? say` over ${chords}${more.length === 0 ? [] : say`, then over ${listedWords(more)}`}` : [];
  const way = of !== null ? `as bar ${of}` : isInPlace(repeat) ? 'again' : movedBy(reading, repeat);
  return now !== null ? say`the same ${way}, now ${now}` : say`the same ${way}${over}${withChanges(reading, changed)}`;
}

/** Figures of a riff that can be told at once. */
const FEW_OF_RIFF = 5;

/** `9-3-5 of Ab7`: what the notes of a riff that comes again in its place are over another chord, up to where one comes back; null where one note at most is another degree, a blue third tells it, or they are many. */
function figuresNow(reading: Reading, repeat: Repeat): Words | null {
  const { copy, model, letters, changed, starts } = repeat;
  const { phrase, notes } = reading;
  const isOverOne = [copy, model].every((all) => isOverOneChord(reading, all));
  if (letters !== 0 || changed.length > 0 || starts.length > 1 || !isOverOne || newMeaning(reading, repeat).length > 0) return null;
  const pitches = copy.map((note) => phrase.notes[note]!.midi);
  const back = pitches.findIndex((midi, i) => pitches.indexOf(midi) < i);
  const own = back < 0 ? copy : copy.slice(0, back);
  const isAll = new Set(pitches).size === own.length;
  const others = own.filter((note, i) => tensionFigures(reading, [note]) !== tensionFigures(reading, [model[i]!]));
  return !isAll || own.length > FEW_OF_RIFF || others.length < 2 ? null : say`${tensionFigures(reading, own)}${ofChord(reading, notes[copy[0]!]!.placement!)}`;
}

/** Whether one note is another, struck once or more: then it is told what it is. */
export function isOneChange({ phrase: { notes } }: Reading, changed: Repeat['changed']): boolean {
  return new Set(changed.map(({ note }) => notes[note]!.midi)).size === 1;
}

/** `, with Eb, the seventh, for E`, `, with Eb for E and Bb for B`: one note with its role, several by their names. */
function withChanges(reading: Reading, changed: Repeat['changed']): Words {
  const [only] = changed;
  if (only === undefined) return [];
  if (isOneChange(reading, changed)) return say`, with ${inRole(reading, only.note)}, for ${noteName(reading, only.instead)}`;
  return [`, with ${listed([...new Set(changed.map(({ note, instead }) => `${noteName(reading, note)} for ${noteName(reading, instead)}`))])}`];
}

/** `a step lower`, `a fourth lower than bar 2`. */
export function movedBy(reading: Reading, repeat: Repeat): string {
  const { notes } = reading.phrase;
  return `${distance(repeat.letters, repeat.halfSteps, notes[repeat.copy[0]!]!.midi - notes[repeat.model[0]!]!.midi)}${thanBar(reading, repeat)}`;
}

/** ` than bar 2`: where more bars than one come before, or another one stands between. */
function thanBar({ phrase: { notes } }: Reading, { model, copy }: Repeat): string {
  const [first, last, own] = [notes[model[0]!]!.bar, notes[model[model.length - 1]!]!.bar, notes[copy[0]!]!.bar];
  return first > 1 || own > last + 1 ? ` than bar ${first}` : '';
}

/** The chords over which notes stand, each once. */
function chordsOver(reading: Reading, notes: readonly number[]): readonly string[] {
  return [...new Set(notes.flatMap((note) => {
    const { placement } = reading.notes[note]!;
    return placement === null ? [] : [chordName(reading, placement)];
  }))];
}

/** `Dm7 and G7`. */
function chordWords(reading: Reading, notes: readonly number[]): Words {
  return listedWords(chordsOver(reading, notes).map((chord): Words => [{ before: '', chord }]));
}
