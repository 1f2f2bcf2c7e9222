/** Making room for notes that lead into a target: the group before it, divided, and whose time they take. */
import type { Note, PlacedGroup } from '../../model/types';
import { chroma, formatNoteName, formatPitch, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import { slotsAsWritten, type NewSlot } from '../writing/plan';
import { valueWords } from '../writing/value-words';

export interface Room {
  readonly slots: readonly NewSlot[];
  /** What the title says of it: `in sixteenths`, `as a triplet, in place of G`; empty where time values and notes stay. */
  readonly changes: string;
  /** Whose time it takes, where the title does not say it: `from the hold before`, `G keeps half its beat`; else empty. */
  readonly from: string;
  /** Whether the beat is divided as before, or in quarters or eighths. */
  readonly isPlain: boolean;
  /** Whether nothing of the beat stays. Of a selection of targets its first note may be one. */
  readonly isWhole: boolean;
}

/** The smallest slot anyone plays at sight: four to a beat. */
const MOST_SLOTS = 4;

/**
 * The ways to divide the group before the target so that the new notes come last, likeliest first: what keeps the eighths, before sixteenths
 * and triplets. A hold or a rest gives all its time; a note keeps its beginning, and so does the first note of a divided beat, but where
 * only the whole of it leaves the eighths as they are.
 */
export function makeRoom(before: PlacedGroup, notes: readonly Pitch[], line: readonly Note[]): Room[] {
  const beats = Number(before.beats.valueOf());
  if (!Number.isInteger(beats) || beats < 1) return [];
  const fresh = notes.map((pitch): NewSlot => ({ kind: 'pitch', pitch, like: null }));
  const slots = slotsAsWritten(before);
  const name = (slot: NewSlot): string => (slot.kind === 'keep' ? formatNoteName(line[slot.note]!.pitch) : '');
  const room = (divided: readonly NewSlot[], from: string, gone = '', isWhole = false): Room => {
    const values = valueWords(before, divided.length);
    return { slots: divided, changes: [values, gone].filter((words) => words !== '').join(', '), from, isPlain: values === '', isWhole };
  };
  if (slots.length > 1 && beats !== 1) return [];
  const rooms =
    slots.length === 1
      ? divideOne(slots[0]!, beats, fresh, name).map(({ slots: divided, from }) => room(divided, from))
      : divideSome(slots, notes, fresh, line, name, room);
  const isNeeded = beats === 1 && fresh.length > 1 && slots.some(({ kind }) => kind === 'keep') && rooms.every(({ isPlain }) => !isPlain);
  const given = givenWay(slots, notes, line);
  const whole = isNeeded ? [room(fresh, keptWords(given), replacedWords(given), true)].filter(({ isPlain }) => isPlain) : [];
  return plainFirst([...whole, ...rooms], ({ isPlain }) => isPlain);
}

/** What keeps the time values goes first; else the order stays. */
export function plainFirst<T>(forms: readonly T[], isPlain: (form: T) => boolean): T[] {
  return [...forms.filter(isPlain), ...forms.filter((form) => !isPlain(form))];
}

/** The ways to divide a beat of several slots. */
function divideSome(
  slots: readonly NewSlot[],
  notes: readonly Pitch[],
  fresh: readonly NewSlot[],
  line: readonly Note[],
  name: (slot: NewSlot) => string,
  room: (slots: readonly NewSlot[], from: string, gone?: string) => Room,
): Room[] {
  const rooms: Room[] = [];
  // Nothing is lost where the notes fit beside those that are there, and strike none of them again.
  const last = slots[slots.length - 1]!;
  const again = last.kind === 'keep' && notes[0] !== undefined && line[last.note]!.midi === midi(notes[0]);
  if (slots.length === 2 && fresh.length === 2 && !again)
    rooms.push(room([...slots, ...fresh], `after ${slots.map((slot) => name(slot) || 'the rest').join('-')}`));
  const kept = slots.slice(0, Math.max(1, Math.min(slots.length - fresh.length, MOST_SLOTS - fresh.length)));
  if (kept.length + fresh.length > MOST_SLOTS) return rooms;
  const given = givenWay(slots.slice(kept.length), notes, line);
  rooms.push(room([...kept, ...fresh], given.length === 0 ? 'from the rest of the beat' : keptWords(given), replacedWords(given)));
  return rooms;
}

/** The notes of some slots at the end of a beat, each with the new note that stands where it stood, counted from the end. */
function givenWay(
  slots: readonly NewSlot[],
  notes: readonly Pitch[],
  line: readonly Note[],
): { readonly old: Pitch; readonly fresh: Pitch | null }[] {
  return slots.flatMap((slot, i) =>
    slot.kind === 'keep' ? [{ old: line[slot.note]!.pitch, fresh: notes[i - slots.length + notes.length] ?? null }] : [],
  );
}

/** `keeping G`: where none of the notes gives way; else empty. */
function keptWords(given: ReturnType<typeof givenWay>): string {
  return replacedWords(given) === '' ? `keeping ${given.map(({ old }) => formatNoteName(old)).join('-')}` : '';
}

/** `in place of G-A`: the notes that give way, counted from the end like those that come; empty where each stays what it was. */
export function replacedWords(pairs: readonly { readonly old: Pitch; readonly fresh: Pitch | null }[]): string {
  const gone = pairs.filter(({ old, fresh }) => fresh === null || midi(old) !== midi(fresh));
  // A note that only changes its octave is told from the new one by it.
  const names = gone.map(({ old, fresh }) => (fresh !== null && chroma(old) === chroma(fresh) ? formatPitch(old) : formatNoteName(old)));
  return names.length === 0 ? '' : `in place of ${names.join('-')}`;
}

function divideOne(
  slot: NewSlot,
  beats: number,
  fresh: readonly NewSlot[],
  name: (slot: NewSlot) => string,
): Pick<Room, 'slots' | 'from'>[] {
  const gives = slot.kind === 'hold' || slot.kind === 'rest';
  if (beats === 1 && gives) return fresh.length > MOST_SLOTS ? [] : [{ slots: halved(slot, fresh), from: `from the ${slot.kind} before` }];
  if (beats === 1)
    return fresh.length >= MOST_SLOTS ? [] : [{ slots: [slot, ...fresh], from: `${name(slot)} keeps ${SHARES[fresh.length]} its beat` }];
  const eighths = 2 * beats;
  if (fresh.length >= eighths) return [];
  const filling: NewSlot = slot.kind === 'rest' ? { kind: 'rest' } : { kind: 'hold' };
  const from = slot.kind === 'keep' ? `from the end of ${name(slot)}` : `from the ${slot.kind} before`;
  return [{ slots: [slot, ...Array<NewSlot>(eighths - fresh.length - 1).fill(filling), ...fresh], from }];
}

/** What a note keeps of its beat beside so many new ones. */
const SHARES: Readonly<Record<number, string>> = { 1: 'half', 2: 'a third of', 3: 'a quarter of' };

/** One note alone comes on the second half of the beat, so that what is held or silent stays so for the first. */
function halved(slot: NewSlot, fresh: readonly NewSlot[]): readonly NewSlot[] {
  return fresh.length === 1 ? [slot, ...fresh] : fresh;
}
