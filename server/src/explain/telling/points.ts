/** What is worth saying of a stretch beside what it is: where it leads, what happens inside it, what the signs mean. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import { bassLine } from '../../analysis/bass-line';
import { placesOf } from '../../analysis/places';
import { isDominant } from '../../analysis/vocabulary';
import { chroma, soundClass } from '../../theory/pitch';
import type { Figure } from '../../theory/types';
import type { Reading } from '../../analysis/types';
import { talkOf, wordsOf } from '../device-words';
import { chordName, degreeWords, listed, noteName, noteNames, withRole } from '../note-words';
import { breathAfter } from './breath';
import { groupsInScale } from './groups';
import { repeatsOf } from './repeats';
import { isByHalfSteps, isOfFigures, isToldAtOnce, isUnheard, mostFigures, notesIn, type Stretch } from './stretches';

export interface Point {
  readonly words: string;
  /** How much a teacher wants to say it, 0 to 10. */
  readonly weight: number;
  /** The notes it is about. */
  readonly notes: readonly number[];
  /** Where it leads; a note that is led to is told so once. */
  readonly target: number | null;
}

/** The points of a stretch in the order of weight, each thing once; `beginning` are the devices of the phrase, but those told as stretches, by their first notes. */
export function pointsOf(reading: Reading, stretch: Stretch, beginning: ReadonlyMap<number, readonly Device[]>): readonly Point[] {
  const devices = notesIn(stretch).flatMap((note) => beginning.get(note) ?? []);
  const found = [...devices.flatMap((device) => devicePoint(reading, device, stretch, devices)), ...links(reading, stretch), ...roleBeside(reading, stretch), ...lateFourth(reading, stretch), ...newMeaning(reading, stretch), ...groups(reading, stretch), ...signs(reading, stretch)];
  return onceOnly([...found].sort((a, b) => b.weight - a.weight || a.notes[0]! - b.notes[0]!), stretch.device?.target ?? null);
}

/** What leads to a target is said once; beside a figure that has told it (`told`), all that leads there is. */
function onceOnly(points: readonly Point[], told: number | null): Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const isShared = (other: Point): boolean => other.notes.some((note) => point.notes.includes(note));
    // An ornament is heard without being named where more is said of its note.
    const same = kept.some((other) => other.words === point.words || (point.target !== null && point.target !== told && other.target === point.target) || (isShared(other) && (other.target === point.target || point.target === null || point.weight < 4)));
    if (!same) kept.push(point);
  }
  return kept;
}

function devicePoint(reading: Reading, device: Device, stretch: Stretch, others: readonly Device[]): Point[] {
  if (goesWithoutSaying(reading, device, stretch)) return [];
  const other = besides(device, [...others, ...devicesAt(reading, device.to)]);
  const role = other === null ? roleIn(reading, device) : null;
  const more = other === null ? (role === null ? '' : `; ${role.words}`) : `; ${wordsOf(other.kind).after!(talkOf(other, reading))}`;
  return [{ words: `${deviceClause(reading, device, stretch)}${more}`, weight: weightOf(reading, device, other), notes: device.notes, target: device.target }];
}

/** Ornaments in the scale are heard without being named; a chromatic one is worth a word. */
function goesWithoutSaying(reading: Reading, device: Device, stretch: Stretch): boolean {
  const words = wordsOf(device.kind);
  if (words.weight < 4 && !isForeign(reading, device)) return true;
  // What is told as a stretch elsewhere is told there.
  if (words.stretch > 0 && !['enclosure', 'double-chromatic', 'sequence'].includes(device.kind)) return true;
  // What bars before did is told where it is done again.
  if (device.kind === 'sequence' && repeatsOf(reading).some(({ from, to }) => from <= device.to && to >= device.from)) return true;
  if (device.kind === 'sequence' && isUnheard(reading, device)) return true;
  // Two statements of three notes are heard where each begins with a beat, or goes there and back.
  if (device.kind === 'sequence' && device.notes.length === 6 && !isToldAtOnce(reading, device) && !isThereAndBack(reading, device)) return true;
  // The colour of a vamp is told where it is first heard.
  if (device.kind === 'modal-colour' && devicesOf(reading).some((other) => other.kind === 'modal-colour' && other.from < device.from)) return true;
  // An altered tension that the figures of the stretch name belongs to the dominant.
  if (['passing-tone', 'approach', 'appoggiatura'].includes(device.kind) && isSpelledOut(stretch) && device.notes.every((note) => isAltered(reading, note))) return true;
  const isInStretch = isByHalfSteps(reading, stretch) || (stretch.as === 'device' && ['chromatic-run', 'bebop-line', 'scale-run'].includes(stretch.device!.kind));
  if (isInStretch && (['passing-tone', 'approach', 'neighbour-tone', 'double-chromatic'].includes(device.kind) || (device.kind === 'tension-resolution' && (isWithinChord(reading, device) || stretch.device?.kind === 'chromatic-run')))) return true;
  // A note that more than one other parts from its target is not heard to lead there.
  if (BESIDES.has(device.kind) && device.target! > device.to + 2) return true;
  // Where a run leads, it says.
  if (stretch.device?.kind === 'scale-run' && device.kind === 'tension-resolution' && device.target === stretch.device.to) return true;
  // A tension that goes elsewhere first is not heard to resolve within its chord.
  if (device.kind === 'tension-resolution' && isWithinChord(reading, device) && device.target! > device.to + 1) return true;
  // What only comes back after other notes leads nowhere.
  if (device.kind === 'guide-tone-resolution' && device.target! > device.to + 1 && reading.phrase.notes[device.target!]!.midi === reading.phrase.notes[device.to]!.midi) return true;
  // Where a pickup leads, it says.
  if (reading.phrase.notes[stretch.to]!.bar === 0 && words.weight < 4) return true;
  // What leans is heard to lean where it rubs.
  if (device.kind === 'appoggiatura' && (isMild(reading, device.notes[0]!) || isAltered(reading, device.target!))) return true;
  // The notes belong to the figures that are told.
  if (device.kind === 'enclosure' && isOfFigures(reading, device)) return true;
  // A long last note, or one from a beat on, is no event at the bar line.
  if (device.kind === 'held-over' && device.detail === 'into a bar' && !isSyncopated(reading, device)) return true;
  return false;
}

function isThereAndBack({ phrase }: Reading, { notes: [first, , third] }: Device): boolean {
  return phrase.notes[first!]!.midi === phrase.notes[third!]!.midi;
}

/** What an enclosure is besides: the guide tone in it resolves, or the tension. */
const BESIDES: ReadonlySet<string> = new Set(['guide-tone-resolution', 'tension-resolution', 'leading-tone']);

function besides({ kind, notes, target }: Device, others: readonly Device[]): Device | null {
  return kind !== 'enclosure' ? null : (others.find((one) => BESIDES.has(one.kind) && one.target === target && one.notes.every((note) => notes.includes(note))) ?? null);
}

/** `the Ab is the seventh of Bb7`: a dominant's seventh that falls to another tone than the third of the next chord, or its b9 or b13 that falls within the chord; null of any other enclosure. */
function roleIn(reading: Reading, { kind, notes: own, target }: Device): { readonly note: number; readonly words: string } | null {
  const { phrase, notes } = reading;
  if (kind !== 'enclosure' || target === null || own.length > 2) return null;
  const seventh = own.find((note) => {
    if (phrase.notes[note]!.midi < phrase.notes[target]!.midi) return false;
    const placement = notes[note]!.placement;
    const chord = placement === null ? null : phrase.spans[placement.span]!.chord;
    const isWithin = placement !== null && placement.span === notes[target]!.placement?.span;
    const isSeventh = placement?.called.number === 7 && placement.role === 'chord-tone' && !isWithin;
    return chord !== null && isDominant(chord) && (isSeventh || (isWithin && isFlatTension(placement.called)));
  });
  return seventh === undefined ? null : { note: seventh, words: `the ${noteName(reading, seventh)} is the ${degreeWords(reading, notes[seventh]!.placement!)} of ${chordName(reading, notes[seventh]!.placement!)}` };
}

export function isFlatTension({ number, alter }: Figure): boolean {
  return number > 7 && alter < 0;
}

/** The same beside an enclosure that is told as a stretch; a resolution that is a device says it itself. */
function roleBeside(reading: Reading, { device }: Stretch): Point[] {
  const role = device === null ? null : roleIn(reading, device);
  if (role === null || devicesAt(reading, role.note).some(({ kind, target }) => BESIDES.has(kind) && target === device!.target)) return [];
  return [{ words: role.words, weight: 5, notes: [role.note], target: device!.target }];
}

/** What stays over the dominant is heard less than what goes on into the next chord; an enclosure tells what is besides, too. */
function weightOf(reading: Reading, device: Device, other: Device | null): number {
  if (other !== null) return Math.max(wordsOf(device.kind).weight, wordsOf(other.kind).weight) + 0.5;
  return device.kind === 'tension-resolution' && isWithinChord(reading, device) ? 6 : wordsOf(device.kind).weight;
}

function isWithinChord({ notes }: Reading, { notes: own, target }: Device): boolean {
  return target !== null && notes[own[0]!]!.placement?.span === notes[target]!.placement?.span;
}

function deviceClause(reading: Reading, device: Device, stretch: Stretch): string {
  const words = wordsOf(device.kind);
  const talk = talkOf(device, reading);
  const isEnclosed = stretch.device !== null && stretch.device.target !== null && stretch.device.target === device.target && stretch.device.kind === 'enclosure';
  const endsRun = stretch.device?.kind === 'scale-run' && stretch.to === device.target;
  if ((isEnclosed || endsRun) && words.after !== undefined) return words.after(talk);
  const clause = words.clause(talk);
  // The figures of the stretch have named the note.
  return device.kind === 'tension-resolution' && isSpelledOut(stretch) ? clause.replace(/^\S+, (the [^,]+),/, '$1') : clause;
}

function isSyncopated({ phrase, context }: Reading, { from }: Device): boolean {
  return !placesOf(phrase, context).isOnBeat(phrase.notes[from]!.onset);
}

/** Whether a note of it is none of the scale that its chord has there. */
function isForeign(reading: Reading, { notes }: Device): boolean {
  return notes.some((note) => {
    const { placement } = reading.notes[note]!;
    const scale = placement === null ? null : reading.scales[placement.span];
    return placement?.role === 'outside' || placement?.borrowed === true || (scale != null && !scale.tones.some(({ name }) => chroma(name) === chroma(reading.phrase.notes[note]!.pitch)));
  });
}

/** A natural tension, or a note over no chord. */
function isMild({ notes }: Reading, note: number): boolean {
  const { placement } = notes[note]!;
  return placement === null || (placement.called.alter === 0 && [9, 13].includes(placement.called.number));
}

function isAltered({ phrase, notes }: Reading, note: number): boolean {
  const { placement } = notes[note]!;
  const chord = placement === null ? null : phrase.spans[placement.span]!.chord;
  return chord !== null && isDominant(chord) && (placement!.role === 'tension' || chord.family === 'altered') && placement!.called.alter !== 0 && placement!.called.number !== 7;
}

/** Whether the stretch says the figures of its notes. */
function isSpelledOut({ as, device, from, to }: Stretch): boolean {
  return to - from < mostFigures(as) && (as === 'device' ? ['arpeggio', 'triplet-arpeggio', 'cell', 'upper-structure'].includes(device!.kind) : as !== 'repeat' && to - from >= 2);
}

/** A chord tone that goes by half step to a chord tone of the next chord, where no device tells it. */
function links(reading: Reading, { to }: Stretch): Point[] {
  const { phrase, notes } = reading;
  const [own, next] = [notes[to]?.placement, notes[to + 1]?.placement];
  if (own == null || next == null || own.span === next.span || own.role !== 'chord-tone' || next.role !== 'chord-tone' || breathAfter(reading, to)) return [];
  const size = phrase.notes[to + 1]!.midi - phrase.notes[to]!.midi;
  if (Math.abs(size) !== 1 || phrase.spans[own.span]!.symbol === phrase.spans[next.span]!.symbol || devicesAt(reading, to).some(({ kind, notes, target }) => target === to + 1 || (BESIDES.has(kind) && notes.includes(to)))) return [];
  return [{ words: `${noteName(reading, to)} ${size > 0 ? 'rises' : 'falls'} a half step to ${withRole(reading, to + 1)}`, weight: 5, notes: [to], target: to + 1 }];
}

/** Notes between a suspended fourth and its third, in which the ear still waits for it. */
const WAITING = 2;

/** The fourth of a suspended chord that falls to the third of the plain chord, with other notes between. */
function lateFourth(reading: Reading, { from, to, device }: Stretch): Point[] {
  const { phrase, notes } = reading;
  const isSuspended = (note: number): boolean => {
    const { placement } = notes[note]!;
    return placement !== null && placement.called.number === 4 && phrase.spans[placement.span]!.chord?.family === 'suspended';
  };
  return notesIn({ from, to }).flatMap((note): Point[] => {
    if (!isSuspended(note)) return [];
    const falls = (other: number): boolean => {
      const placement = notes[other]?.placement;
      const [own, next] = [phrase.spans[notes[note]!.placement!.span]!.chord!, placement == null ? null : phrase.spans[placement.span]!.chord];
      return next !== null && placement!.called.number === 3 && placement!.role === 'chord-tone' && chroma(next.root) === chroma(own.root) && [1, 2].includes(phrase.notes[note]!.midi - phrase.notes[other]!.midi);
    };
    const between = Array.from({ length: WAITING }, (_, i) => note + 1 + i);
    const target = between.map((one) => one + 1).find((other) => falls(other));
    if (target === undefined || falls(note + 1) || between.some((one) => one < target && (isSuspended(one) || breathAfter(reading, one)))) return [];
    const isEnclosed = device?.kind === 'enclosure' && device.target === target;
    return [{ words: isEnclosed ? `the ${noteName(reading, note)} is the suspended fourth (4–3)` : `${noteName(reading, note)}, the suspended fourth, falls by way of ${noteName(reading, note + 1)} to ${withRole(reading, target)} (4–3)`, weight: 8, notes: [note], target }];
  });
}

/** Told where they begin. */
function groups(reading: Reading, { from, to }: Stretch): Point[] {
  const found = groupsInScale(reading);
  if (found === null || found.starts[0]! < from || found.starts[0]! > to) return [];
  const named = found.starts.map((start) => noteNames(reading, notesIn({ from: start, to: start + found.size - 1 })));
  return [{ words: `${listed(named)} are a sequence ${found.way} the scale`, weight: 8, notes: found.starts.flatMap((start) => notesIn({ from: start, to: start + found.size - 1 })), target: null }];
}

/** The blue third of I7 over IV7, of which it is the seventh: told once a phrase. */
function newMeaning(reading: Reading, { from, to }: Stretch): Point[] {
  const { phrase, notes, context } = reading;
  if (context.blues === null) return [];
  const isSeventh = (note: number): boolean => {
    const { placement } = notes[note]!;
    const chord = placement === null ? null : phrase.spans[placement.span]!.chord;
    return chord !== null && placement!.called.number === 7 && placement!.role === 'chord-tone' && isDominant(chord) && soundClass(chroma(chord.root) - context.blues!) === 5;
  };
  const first = notes.find(({ note }) => isSeventh(note));
  // What resolves there has told it.
  if (first === undefined || first.note < from || first.note > to || devicesAt(reading, first.note).some(({ kind, target }) => kind === 'guide-tone-resolution' && target === first.note)) return [];
  const was = notes.slice(0, first.note).find(({ note, placement }) => placement?.blue?.number === 3 && chroma(phrase.notes[note]!.pitch) === chroma(phrase.notes[first.note]!.pitch));
  return was === undefined ? [] : [{ words: `${noteName(reading, first.note)}, the blue third over ${chordName(reading, was.placement!)}, is the seventh of ${chordName(reading, first.placement!)}`, weight: 7, notes: [first.note], target: null }];
}

/** What `!`, a ghost note, N.C. and a slash bass mean here. */
function signs(reading: Reading, stretch: Stretch): Point[] {
  const found: Point[] = [];
  for (let note = stretch.from; note <= stretch.to; note += 1) {
    const { marks, span } = reading.phrase.notes[note]!;
    const { placement } = reading.notes[note]!;
    const point = (words: string, weight: number): void => void found.push({ words, weight, notes: [note], target: null });
    if (marks.includes('intended') && placement !== null && (placement.role === 'avoid' || placement.role === 'outside')) {
      point(`${withRole(reading, note)}, is meant to rub (!)`, 9);
    }
    if (marks.includes('ghost')) point(`${noteName(reading, note)} is a ghost note, felt more than heard`, 5);
    const isFirst = note === 0 || reading.phrase.notes[note - 1]!.span !== span;
    const written = span === null ? null : reading.phrase.spans[span]!;
    if (written === null || !isFirst) continue;
    if (written.chord === null && written.symbol === 'N.C.') point('no chord sounds under it (N.C.)', 6);
    const bass = written.chord?.bass ?? null;
    // An inversion is in its symbol; what the chord does not hold is heard.
    if (bass !== null && !written.chord!.tones.some(({ name }) => chroma(name) === chroma(bass)) && bassLine(reading.phrase.spans).length === 0) point(`${written.symbol.split('/').pop()!} lies in the bass under ${written.symbol.slice(0, written.symbol.lastIndexOf('/'))}`, 5);
  }
  return found;
}
