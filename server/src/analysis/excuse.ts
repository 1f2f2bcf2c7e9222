/** Why an avoid or outside note may stand: it goes where it should, soon enough (THEORY: where it falls). */
import type { Fraction } from '../model/fraction';
import type { Note, Phrase } from '../model/types';
import type { Places } from './places';
import type { SideSlip } from './side-slips';
import type { Excuse, NoteReading, Role, Sounding } from './types';
import { connected, isHalfStep, isLeap, isStep, move, nextOther, previousOther } from './vocabulary';

export interface MelodicContext {
  readonly phrase: Phrase;
  readonly places: Places;
  /** The role of each note over its own chord. */
  readonly roles: readonly (Role | null)[];
  /** The side-slips that the line makes evident, by their notes. */
  readonly slips: ReadonlyMap<number, SideSlip>;
}

/** So many notes enclose a chord tone at most, each within a whole step of it. */
const MOST_ENCLOSING = 4;
const WHOLE_STEP = 2;

/**
 * The excuse of a note that sounds where it clashes, or null. The note it goes to (in a run of half steps, the next one) must come within its room: two beats for an
 * avoid note and for one kept or struck again from before, one beat for any other outside note. A note of an evident side-slip need go nowhere itself.
 */
export function excuseOf(note: Note, sounding: Sounding, context: MelodicContext): Excuse | null {
  const slip = context.slips.get(note.index);
  if (slip !== undefined) return { kind: 'side-slip', to: slip.back };
  const latest = latestFor(note, sounding, context);
  return byStep(note, sounding, latest, context) ?? byHalfSteps(note, latest, context) ?? byEnclosing(note, latest, context);
}

/**
 * Whether notes that come behind the one at `last` could still excuse a note: it has gone on by half steps in one direction, or there is
 * time left and all notes since are near enough to enclose something.
 */
export function mayStillBeExcused(
  note: Note,
  sounding: Sounding,
  last: number,
  context: Pick<MelodicContext, 'phrase' | 'places'>,
): boolean {
  const since = context.phrase.notes.slice(note.index, last + 1).filter(({ midi }, i, all) => i === 0 || midi !== all[i - 1]!.midi);
  const moves = since.slice(1).map((next, i) => move(since[i]!, next));
  if (moves.every((size) => Math.abs(size) === 1 && size === moves[0])) return true;
  const { onset, duration } = context.phrase.notes[last]!;
  const midis = since.map(({ midi }) => midi);
  const isRoom = onset.add(duration).compare(latestFor(note, sounding, context)) <= 0;
  return isRoom && since.length <= MOST_ENCLOSING && Math.max(...midis) - Math.min(...midis) <= 2 * WHOLE_STEP;
}

/** When the note it goes to must be there. */
function latestFor(note: Note, sounding: Sounding, context: Pick<MelodicContext, 'phrase' | 'places'>): Fraction {
  const { beat } = context.places.barAt(sounding.at).meter;
  const kept = sounding.held || struckAgain(note, context);
  return sounding.at.add(beat.mul(sounding.placement.role === 'avoid' || kept ? 2 : 1));
}

/** The excuse of a note in the first of its soundings that has one; null where none has. */
export function firstExcuse({ soundings }: Pick<NoteReading, 'soundings'>): Excuse | null {
  return soundings.find(({ excuse }) => excuse !== null)?.excuse ?? null;
}

function struckAgain(note: Note, { phrase, places }: Pick<MelodicContext, 'phrase' | 'places'>): boolean {
  const before = phrase.notes[note.index - 1];
  return before !== undefined && before.midi === note.midi && connected(before, note, places);
}

function byStep(note: Note, sounding: Sounding, latest: Fraction, context: MelodicContext): Excuse | null {
  const next = nextOther(note, context);
  if (next === null || next.onset.compare(latest) > 0) return null;
  const role = context.roles[next.index];
  const welcome = role === 'chord-tone' || (sounding.placement.role === 'avoid' && role === 'tension');
  return isStep(note, next) && welcome ? { kind: 'step', to: next.index } : null;
}

/**
 * Half steps, all in one direction, on to a chord tone. In a run that comes from a chord tone only the next note must come within the room;
 * one that starts on the note in question must reach its chord tone there.
 */
function byHalfSteps(note: Note, latest: Fraction, context: MelodicContext): Excuse | null {
  const first = nextOther(note, context);
  if (first === null || first.onset.compare(latest) > 0 || !isHalfStep(note, first)) return null;
  const direction = move(note, first);
  const isRun = comesFromChordTone(note, direction, context);
  for (let next: Note | null = first; next !== null && (isRun || next.onset.compare(latest) <= 0); ) {
    if (context.roles[next.index] === 'chord-tone') return { kind: 'chromatic-line', to: next.index };
    const after = nextOther(next, context);
    next = after !== null && move(next, after) === direction ? after : null;
  }
  return null;
}

/** Whether half steps in that direction lead to the note from a chord tone. */
function comesFromChordTone(note: Note, direction: number, context: MelodicContext): boolean {
  for (
    let current = note, before = previousOther(note, context);
    before !== null && move(before, current) === direction;
    current = before, before = previousOther(before, context)
  ) {
    if (context.roles[before.index] === 'chord-tone') return true;
  }
  return false;
}

/** One of two to four notes on both sides of a chord tone, within a whole step, each side closing in; that tone comes next. */
function byEnclosing(note: Note, latest: Fraction, context: MelodicContext): Excuse | null {
  const members = [note];
  let current = note;
  for (let ahead = 0; ahead < MOST_ENCLOSING; ahead += 1) {
    const target = nextOther(current, context);
    if (target === null || target.onset.compare(latest) > 0) return null;
    if (context.roles[target.index] === 'chord-tone' && encloses(backward(members, target, context), target)) {
      return { kind: 'enclosure', to: target.index };
    }
    members.push(target);
    current = target;
  }
  return null;
}

/** The wrapping notes of a target, those before the note in question included while they still fit. */
function backward(members: readonly Note[], target: Note, context: MelodicContext): readonly (readonly Note[])[] {
  const candidates: Note[][] = [];
  let list = [...members];
  for (;;) {
    if (list.length >= 2 && list.length <= MOST_ENCLOSING) candidates.push(list);
    const before = previousOther(list[0]!, context);
    if (before === null || list.length >= MOST_ENCLOSING || isLeap(before, target)) break;
    list = [before, ...list];
  }
  return candidates;
}

function encloses(candidates: readonly (readonly Note[])[], target: Note): boolean {
  return candidates.some((list) => {
    if (!list.every((note) => isStep(target, note))) return false;
    const distances = list.map((note) => move(target, note));
    const above = distances.filter((d) => d > 0);
    const below = distances.filter((d) => d < 0).map((d) => -d);
    return above.length > 0 && below.length > 0 && closesIn(above) && closesIn(below);
  });
}

function closesIn(distances: readonly number[]): boolean {
  return distances.every((distance, i) => i === 0 || distance < distances[i - 1]!);
}
