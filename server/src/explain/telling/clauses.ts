/** A stretch as a clause: what it is, in the order in which it is heard. */
import { placesOf } from '../../analysis/places';
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { beatWords, numberWord } from '../../rules/words';
import { talkOf, wordsOf } from '../device-words';
import { chordName, degreeWords, distance, figures as tensionFigures, listed, noteName, noteNames, withRole } from '../note-words';
import { isOnHome, SCALE_LINES, wholeScale } from '../whole-scale';
import { breathAfter } from './breath';
import { FIGURED } from './candidates';
import { isInPlace, type Repeat } from './repeats';
import { FEW, isAstray, isByHalfSteps, isFlagged, mostFigures, notesIn, turnsBefore, type Stretch } from './stretch';

export interface Clause {
  readonly words: string;
  /** 0 to 10. */
  readonly weight: number;
  /** The verb with which the words begin; one that the clause before begins with, too, is left out. */
  readonly verb?: string;
  /** Whether it says all there is to say of its notes, their figures among them. */
  readonly plain: boolean;
  /** What is added where nothing else tells the last note: ` and comes to rest on F, the fifth`. */
  readonly rest?: string;
}

export function clauseOf(reading: Reading, stretch: Stretch): Clause {
  if (stretch.repeat !== null) return { words: stretch.from === stretch.repeat.from ? repeated(reading, stretch) : '', weight: stretch.from === stretch.repeat.from ? 8 : 0, plain: false };
  if (stretch.device !== null) return deviceClause(reading, stretch);
  const verb: { readonly verb?: string } = (stretch.from === stretch.to && isLanding(reading, stretch.to)) || isUpbeat(reading, stretch) ? { verb: landingVerb(reading, stretch) } : {};
  const words = plainWords(reading, stretch);
  // A note that leans is told without a verb of landing.
  const told = verb.verb !== undefined && words.startsWith(verb.verb) ? verb : {};
  return { ...told, words, rest: rest(reading, stretch, words), weight: weightOfPlain(reading, stretch, verb.verb !== undefined), plain: true };
}

function weightOfPlain(reading: Reading, stretch: Stretch, lands: boolean): number {
  const size = stretch.to - stretch.from + 1;
  if (lands) return 6;
  if (stretch.as === 'line' || goesOnFromTarget(reading, stretch) || isCadence(reading, stretch)) return 4;
  return size > mostFigures('plain') || size < 4 ? 1 : 3;
}

function deviceClause(reading: Reading, { device, from, to }: Stretch): Clause {
  const words = wordsOf(device!.kind);
  const hasTarget = device!.target !== null && device!.target <= to && device!.target >= from;
  // A run over one chord is told from its first note, though another figure ends there, and to its last.
  const isOver = (note: number, other: number): boolean => reading.notes[note]!.placement?.span === reading.notes[other]!.placement?.span && reading.phrase.notes[note]!.bar === reading.phrase.notes[other]!.bar;
  const own = device!.notes.filter((note) => (note >= from && note <= to) || (device!.kind === 'scale-run' && (isOver(note, note < from ? from : to) || (note === to + 1 && isGoal(reading, note) && reading.notes[to]!.placement?.role !== 'chord-tone'))));
  const whole = device!.kind === 'chromatic-run' ? halfStepsAround(reading, device!.from, device!.target ?? device!.to) : null;
  const clause = words.clause(talkOf(whole === null ? { ...device!, notes: own } : { ...device!, notes: notesIn(whole), target: whole.to }, reading));
  // A device that stops short of its target says it all the same: the target begins what follows.
  const end = SCALE_LINES.has(device!.kind) && isLanding(reading, to) && to === reading.phrase.notes.length - 1 ? `, and comes to rest on ${withRole(reading, to)}` : '';
  return { words: `${clause}${hasTarget && whole === null ? landing(reading, from, to) : ''}${end}`, rest: FIGURED.has(device!.kind) ? rest(reading, { from, to }, clause) : '', weight: words.weight, plain: false };
}

/** A note that the line comes to rest on. */
export function isLanding(reading: Reading, note: number): boolean {
  const own = reading.phrase.notes[note]!;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  return breathAfter(reading, note) && own.duration.compare(beat) >= 0;
}

/** A chord tone at a change of chord: a run leads there though another figure begins with it. */
function isGoal(reading: Reading, note: number): boolean {
  const [before, own] = [reading.notes[note - 1]?.placement, reading.notes[note]!.placement];
  return own !== null && own.role === 'chord-tone' && before != null && before.span !== own.span;
}

/** All notes that go on by half steps one way, before and after some that do: another figure may begin or end among them. */
function halfStepsAround({ phrase: { notes } }: Reading, from: number, to: number): { readonly from: number; readonly to: number } {
  const way = Math.sign(notes[to]!.midi - notes[from]!.midi);
  const goesOn = (one: number): boolean => notes[one + 1] !== undefined && notes[one + 1]!.midi - notes[one]!.midi === way && notes[one + 1]!.onset.equals(notes[one]!.onset.add(notes[one]!.duration));
  let [first, last] = [from, to];
  while (first > 0 && goesOn(first - 1)) first -= 1;
  while (goesOn(last)) last += 1;
  return { from: first, to: last };
}

/** Figures that a held note ends: ` and comes to rest on F, the fifth`, where the words do not tell what it is. */
function rest(reading: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>, words: string): string {
  const { notes } = reading.phrase;
  const { placement } = reading.notes[to]!;
  if (to !== notes.length - 1 || to - from < 2 || placement === null || !isLanding(reading, to) || notes[to]!.duration.compare(notes[to - 1]!.duration) <= 0) return '';
  if (words.endsWith(withRole(reading, to)) || /(?:^| )(?:lands|ends|starts|comes to rest) on |by half steps/.test(words)) return '';
  return ` and comes to rest on ${noteName(reading, to)}, the ${degreeWords(reading, placement)}`;
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
  return note === notes.length - 1 && before.bar === own.bar && own.onset.compare(before.onset.add(before.duration)) > 0;
}

/** `lands on`, `goes to`. */
function verbed(verb: string): string {
  return `${verb}${verb === 'goes ' ? 'to' : 'on'}`;
}

/** ` against the third`: the chord tone below an avoid note. */
function rubbedOf({ notes }: Reading, note: number): string {
  const against = notes[note]!.placement!.against;
  return against === null ? '' : ` against the ${numberWord(against)}`;
}

/** `, from D a step below`: how the last note is reached by a whole step over the change; a half step is told where it begins. */
function stepInto(reading: Reading, note: number): string {
  const [before, own] = [reading.phrase.notes[note - 1], reading.phrase.notes[note]!];
  if (before === undefined || note !== reading.phrase.notes.length - 1 || breathAfter(reading, note - 1) || devicesAt(reading, note).some(({ target }) => target === note)) return '';
  const size = own.midi - before.midi;
  return Math.abs(size) === 2 && reading.notes[note - 1]!.placement?.span !== reading.notes[note]!.placement?.span ? `, from ${noteName(reading, note - 1)} a step ${size > 0 ? 'below' : 'above'}` : '';
}

/** In a scale that is told, notes count as the scale's: 1-b3-4-5-b7. */
function figures(reading: Reading, notes: readonly number[]): string {
  const written = tensionFigures(reading, notes);
  return wholeScale(reading) === null || !isOnHome(reading) ? written : written.split('-').map((one) => OF_SCALE[one] ?? one).join('-');
}

const OF_SCALE: Readonly<Record<string, string>> = { '9': '2', '11': '4', '13': '6' };

function plainWords(reading: Reading, stretch: Stretch): string {
  const { to, as } = stretch;
  const from = stretch.from - (goesOnFromTarget(reading, stretch) ? 1 : 0);
  const { notes } = talkOf({ notes: notesIn({ from, to }), target: null, detail: '' }, reading);
  const { phrase } = reading;
  const last = notes[notes.length - 1]!;
  const next = phrase.notes[to + 1];
  const { placement } = reading.notes[from]!;
  if (phrase.notes[to]!.bar === 0 && next !== undefined && next.bar > 0) return `${listed(notes.length > 3 ? [noteNames(reading, notes)] : notes.map((note) => noteName(reading, note)))} ${notes.length === 1 || notes.length > 3 ? 'leads' : 'lead'} into ${withRole(reading, next.index)}`;
  if (notes.length === 1) {
    if (isLanding(reading, to) && reading.notes[to]!.placement?.role === 'avoid' && next !== undefined) return `${noteName(reading, last)}, the ${degreeWords(reading, reading.notes[to]!.placement!)} of ${chordName(reading, reading.notes[to]!.placement!)}, rubs${rubbedOf(reading, to)} on ${beatWords(phrase.notes[from]!.beat)} and goes on to ${noteName(reading, to + 1)}`;
    if (isLanding(reading, to)) return `${verbed(landingVerb(reading, { from, to }))} ${withRole(reading, last)}, on ${beatWords(phrase.notes[from]!.beat)}${stepInto(reading, from)}`;
    return `${withRole(reading, from)}${to > from ? `, is struck ${to - from === 1 ? 'twice' : `${to - from + 1} times`}` : ''}`;
  }
  const motion = phrase.notes[last]!.midi > phrase.notes[notes[0]!]!.midi ? 'climbs' : 'falls';
  if (placement === null) return `${notes.length > FEW ? `${noteName(reading, from)} to ${noteName(reading, last)}` : noteNames(reading, notes)} ${as === 'line' || notes.length === 2 ? motion : 'stands alone'}`;
  const chord = chordName(reading, placement);
  if (notes.length > mostFigures(as)) return `the line moves from ${withRole(reading, from)}, to ${withRole(reading, last)}`;
  const isOneWay = as === 'line' || from < stretch.from;
  if (isByHalfSteps(reading, { from, to, as })) {
    const whole = halfStepsAround(reading, from, to);
    return `${withRole(reading, whole.from)}, ${motion} by half steps to ${noteName(reading, whole.to)}`;
  }
  if (isCadence(reading, stretch) && from === stretch.from) return `${noteName(reading, from)} ${phrase.notes[to]!.midi > phrase.notes[from]!.midi ? 'rises' : 'falls'} to ${withRole(reading, to)}`;
  if (isUpbeat(reading, stretch) && from === stretch.from) return `${verbed(landingVerb(reading, { from, to }))} ${withRole(reading, to)}, on ${beatWords(phrase.notes[to]!.beat)}`;
  const own = notes.filter((note, i) => i === 0 || i === notes.length - 1 || !passes(reading, note));
  if (isOneWay || notes.length === 2) return `${noteNames(reading, own)} ${motion}${isInFourths(reading, notes) ? ' in fourths,' : ''} ${figures(reading, own)} of ${chord}`;
  const isChordal = notes.every((note) => reading.notes[note]!.placement?.role === 'chord-tone');
  return `${noteNames(reading, notes)} ${isChordal ? 'outlines' : 'weaves through'} ${chord} (${figures(reading, notes)})`;
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
function repeated(reading: Reading, { repeat }: Stretch): string {
  const { copy, model, letters, halfSteps, changed, starts, of, partial } = repeat!;
  const chords = starts.map((start) => chordsOver(reading, start === starts[0] ? copy : [start]));
  const { placement } = reading.notes[copy[0]!]!;
  const isOverSame = of !== null && chordsOver(reading, copy) === chordsOver(reading, model);
  const over = placement === null || isOverSame ? '' : ` over ${chords.length === 1 ? chords[0]! : `${chords[0]!}, then over ${listed(chords.slice(1))}`}`;
  const moved = changed.length === 0 ? '' : `, with ${changed.length === 1 ? `${withRole(reading, changed[0]!.note)}, for ${noteName(reading, changed[0]!.instead)}` : listed([...new Set(changed.map(({ note, instead }) => `${noteName(reading, note)} for ${noteName(reading, instead)}`))])}`;
  if (partial) return `it begins like bar ${of}${placement === null || isOverSame ? '' : `, over ${chords[0]!}`}`;
  if (of !== null) return `the same as bar ${of}${over}${moved}`;
  return `the same ${isInPlace(repeat!) ? 'again' : `${distance(letters, halfSteps)}${thanBar(reading, repeat!)}`}${over}${moved}`;
}

/** ` than bar 2`: where more bars than one come before. */
export function thanBar({ phrase: { notes } }: Reading, { model }: Repeat): string {
  const { bar } = notes[model[0]!]!;
  return bar > 1 ? ` than bar ${bar}` : '';
}

function chordsOver(reading: Reading, notes: readonly number[]): string {
  const symbols = notes.flatMap((note) => {
    const { placement } = reading.notes[note]!;
    return placement === null ? [] : [chordName(reading, placement)];
  });
  return listed([...new Set(symbols)]);
}
