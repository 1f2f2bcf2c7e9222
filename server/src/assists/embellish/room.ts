/** Making room for notes that lead into a target: the group before it, divided, and whose time they take. */
import type { Note, PlacedGroup } from '../../model/types';
import { chroma, formatNoteName, formatPitch, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import { slotsAsWritten, type NewSlot } from '../writing/plan';

export interface Room {
  readonly slots: readonly NewSlot[];
  /** Whose time it takes, to put at the end of a title: `from the hold before`, `G keeps half its beat`. */
  readonly from: string;
}

/** The smallest slot anyone plays at sight: four to a beat. */
const MOST_SLOTS = 4;

/**
 * The ways to divide the group before the target so that the new notes come last, likeliest first. A hold or a rest gives all its
 * time; a note keeps its beginning, and so does the first note of a divided beat.
 */
export function makeRoom(before: PlacedGroup, notes: readonly Pitch[], line: readonly Note[]): Room[] {
  const beats = Number(before.beats.valueOf());
  if (!Number.isInteger(beats) || beats < 1) return [];
  const fresh = notes.map((pitch): NewSlot => ({ kind: 'pitch', pitch, like: null }));
  const slots = slotsAsWritten(before);
  const name = (slot: NewSlot): string => (slot.kind === 'keep' ? formatNoteName(line[slot.note]!.pitch) : '');
  if (slots.length === 1) return divideOne(slots[0]!, beats, fresh, name);
  if (beats !== 1) return [];
  const rooms: Room[] = [];
  // Nothing is lost where the notes fit beside those that are there, and strike none of them again.
  const last = slots[slots.length - 1]!;
  const again = last.kind === 'keep' && notes[0] !== undefined && line[last.note]!.midi === midi(notes[0]);
  if (slots.length === 2 && fresh.length === 2 && !again) rooms.push({ slots: [...slots, ...fresh], from: `${slots.map((slot) => name(slot) || 'the rest').join('-')} in sixteenths` });
  const kept = slots.slice(0, Math.max(1, Math.min(slots.length - fresh.length, MOST_SLOTS - fresh.length)));
  const given = slots.slice(kept.length).flatMap((slot, i) => (slot.kind === 'keep' ? [{ old: line[slot.note]!.pitch, fresh: notes[i - (slots.length - kept.length) + notes.length] ?? null }] : []));
  if (kept.length + fresh.length <= MOST_SLOTS) rooms.push({ slots: [...kept, ...fresh], from: replacedWords(given) || (given.length === 0 ? 'from the rest of the beat' : `keeping ${given.map(({ old }) => formatNoteName(old)).join('-')}`) });
  return rooms;
}

/** `in place of G-A`: the notes that give way, counted from the end like those that come; empty where each stays what it was. */
export function replacedWords(pairs: readonly { readonly old: Pitch; readonly fresh: Pitch | null }[]): string {
  const gone = pairs.filter(({ old, fresh }) => fresh === null || midi(old) !== midi(fresh));
  // A note that only changes its octave is told from the new one by it.
  const names = gone.map(({ old, fresh }) => (fresh !== null && chroma(old) === chroma(fresh) ? formatPitch(old) : formatNoteName(old)));
  return names.length === 0 ? '' : `in place of ${names.join('-')}`;
}

function divideOne(slot: NewSlot, beats: number, fresh: readonly NewSlot[], name: (slot: NewSlot) => string): Room[] {
  const gives = slot.kind === 'hold' || slot.kind === 'rest';
  if (beats === 1 && gives) return fresh.length > MOST_SLOTS ? [] : [{ slots: halved(slot, fresh), from: `from the ${slot.kind} before` }];
  if (beats === 1) return fresh.length >= MOST_SLOTS ? [] : [{ slots: [slot, ...fresh], from: `${name(slot)} keeps ${SHARES[fresh.length]} its beat` }];
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
