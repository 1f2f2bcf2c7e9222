/** Making room for approach notes: the group before their target, divided. */
import type { PlacedGroup } from '../model/types';
import type { Pitch } from '../theory/types';
import { slotsAsWritten, type NewSlot } from './rewrite';

/**
 * The group before the target, divided so that the approach notes come last. A hold or a rest gives all its time; a note keeps
 * its beginning, and so does the first note of a divided beat.
 */
export function makeRoom(before: PlacedGroup, notes: readonly Pitch[]): NewSlot[] | null {
  const beats = Number(before.beats.valueOf());
  if (!Number.isInteger(beats) || beats < 1) return null;
  const fresh = notes.map((pitch): NewSlot => ({ kind: 'pitch', pitch, like: null }));
  const slots = slotsAsWritten(before);
  if (slots.length === 1) return divideOne(slots[0]!, beats, fresh);
  if (beats !== 1) return null;
  // Nothing is lost where the pair fits into sixteenths; else the notes after the first, off the beat, make room.
  const kept = slots.length === 2 && fresh.length === 2 ? slots : slots.slice(0, Math.max(1, slots.length - fresh.length));
  return [...kept, ...fresh];
}

function divideOne(slot: NewSlot, beats: number, fresh: readonly NewSlot[]): NewSlot[] {
  const gives = slot.kind === 'hold' || slot.kind === 'rest';
  if (beats === 1) return gives ? [...fresh] : [slot, ...fresh];
  const eighths = 2 * beats;
  const filling: NewSlot = slot.kind === 'rest' ? { kind: 'rest' } : { kind: 'hold' };
  return [slot, ...Array<NewSlot>(eighths - fresh.length - 1).fill(filling), ...fresh];
}
