/** A stretch as a clause: what it is, in the order in which it is heard. */
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { beatWords } from '../../rules/words';
import { talkOf, wordsOf } from '../device-words';
import { chordName, distance, figures, listed, noteName, noteNames, withRole } from '../note-words';
import { breathAfter } from './breath';
import { FEW, mostFigures, notesIn, type Stretch } from './stretches';

export interface Clause {
  readonly words: string;
  /** 0 to 10. */
  readonly weight: number;
  /** The verb with which the words begin; one that the clause before begins with, too, is left out. */
  readonly verb?: string;
  /** Whether it says all there is to say of its notes, their figures among them. */
  readonly plain: boolean;
}

export function clauseOf(reading: Reading, stretch: Stretch): Clause {
  if (stretch.repeat !== null) return { words: stretch.from === stretch.repeat.from ? repeated(reading, stretch) : '', weight: stretch.from === stretch.repeat.from ? 8 : 0, plain: false };
  if (stretch.device !== null) return deviceClause(reading, stretch);
  const verb = stretch.from === stretch.to && isLanding(reading, stretch.to) ? { verb: landingVerb(reading, stretch) } : {};
  return { ...verb, words: plainWords(reading, stretch), weight: stretch.as === 'line' ? 4 : isLanding(reading, stretch.to) ? 6 : stretch.to - stretch.from >= 2 ? 3 : 1, plain: true };
}

function deviceClause(reading: Reading, { device, from, to }: Stretch): Clause {
  const words = wordsOf(device!.kind);
  const hasTarget = device!.target !== null && device!.target <= to && device!.target >= from;
  const own = device!.notes.filter((note) => note >= from && note <= to);
  const clause = words.clause(talkOf({ ...device!, notes: own }, reading));
  // A device that stops short of its target says it all the same: the target begins what follows.
  return { words: `${clause}${hasTarget ? landing(reading, to) : ''}`, weight: words.weight, plain: false };
}

/** A note that the line comes to rest on. */
export function isLanding(reading: Reading, note: number): boolean {
  const own = reading.phrase.notes[note]!;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  return breathAfter(reading, note) && own.duration.compare(beat) >= 0;
}

function landing(reading: Reading, note: number): string {
  return note === reading.phrase.notes.length - 1 && isLanding(reading, note) ? `, on ${beatWords(reading.phrase.notes[note]!.beat)}${reading.phrase.notes[note - 1]?.bar === reading.phrase.notes[note]!.bar ? '' : ` of bar ${reading.phrase.notes[note]!.bar}`}` : '';
}

/** Whether a finding tells a stretch: one note that is warned of. */
export function isToldByFinding({ notes }: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): boolean {
  return from === to && notes[from]!.verdict?.level === 'warning';
}

/** What begins a phrase lands nowhere, and what is flagged has not arrived. */
function landingVerb({ notes }: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): string {
  if (from > 0 && notes[from]!.verdict?.level === 'warning') return 'stops ';
  if (from > 0 && from === to && notes[from - 1]!.verdict?.level === 'warning') return 'goes ';
  return from === 0 ? 'starts ' : to > from ? 'comes to rest ' : 'lands ';
}

/** `lands on`, `goes to`. */
function verbed(verb: string): string {
  return `${verb}${verb === 'goes ' ? 'to' : 'on'}`;
}

function plainWords(reading: Reading, { from, to, as }: Stretch): string {
  const { notes } = talkOf({ notes: notesIn({ from, to }), target: null, detail: '' }, reading);
  const { phrase } = reading;
  const last = notes[notes.length - 1]!;
  const next = phrase.notes[to + 1];
  const { placement } = reading.notes[from]!;
  if (phrase.notes[to]!.bar === 0 && next !== undefined && next.bar > 0) return `${listed(notes.length > 3 ? [noteNames(reading, notes)] : notes.map((note) => noteName(reading, note)))} ${notes.length === 1 || notes.length > 3 ? 'leads' : 'lead'} into ${withRole(reading, next.index)}`;
  if (notes.length === 1) {
    if (isLanding(reading, to)) return `${verbed(landingVerb(reading, { from, to }))} ${withRole(reading, last)}, on ${beatWords(phrase.notes[from]!.beat)}`;
    return `${withRole(reading, from)}${to > from ? `, is struck ${to - from === 1 ? 'twice' : `${to - from + 1} times`}` : ''}`;
  }
  const motion = phrase.notes[last]!.midi > phrase.notes[notes[0]!]!.midi ? 'climbs' : 'falls';
  if (placement === null) return `${notes.length > FEW ? `${noteName(reading, from)} to ${noteName(reading, last)}` : noteNames(reading, notes)} ${as === 'line' || notes.length === 2 ? motion : 'stands alone'}`;
  const chord = chordName(reading, placement);
  if (notes.length > mostFigures(as)) return `the line moves from ${withRole(reading, from)}, to ${withRole(reading, last)}`;
  if (as === 'line' || notes.length === 2) return `${noteNames(reading, notes)} ${motion} ${figures(reading, notes)} of ${chord}`;
  const isChordal = notes.every((note) => reading.notes[note]!.placement?.role === 'chord-tone');
  return `${noteNames(reading, notes)} ${isChordal ? 'outlines' : 'weaves through'} ${chord} (${figures(reading, notes)})`;
}

/** `the same a step lower over C7`. */
function repeated(reading: Reading, { repeat }: Stretch): string {
  const { copy, letters, halfSteps, changed, starts, of } = repeat!;
  const chords = starts.map((start) => chordsOver(reading, start === starts[0] ? copy : [start]));
  const { placement } = reading.notes[copy[0]!]!;
  const over = placement === null || (of !== null && reading.context.vamp) ? '' : ` over ${chords.length === 1 ? chords[0]! : `${chords[0]!}, then over ${listed(chords.slice(1))}`}`;
  const moved = changed.length === 0 ? '' : `, with ${withRole(reading, changed[0]!)}`;
  if (of !== null) return `the same as bar ${of}${over}${moved}`;
  return `the same ${letters === 0 ? 'again' : distance(letters, halfSteps)}${over}${moved}`;
}

function chordsOver(reading: Reading, notes: readonly number[]): string {
  const symbols = notes.flatMap((note) => {
    const { placement } = reading.notes[note]!;
    return placement === null ? [] : [chordName(reading, placement)];
  });
  return listed([...new Set(symbols)]);
}
