/** The note a repair is for: under the cursor, with a finding of its own. */
import type { NoteReading } from '../../analysis/types';
import type { Note } from '../../model/types';
import { formatNoteName } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { AssistContext, Offer } from '../assist';
import { editsOf, isRewritable, slotsAsWritten, verified, type NewSlot, type Wanted } from './plan';

export interface Flagged {
  readonly note: Note;
  readonly read: NoteReading;
  /** The rule that flags it. */
  readonly rule: 'clash' | 'rub';
  /** Its group's place in `phrase.groups`, and its slot in the group. */
  readonly group: number;
  readonly slot: number;
}

/** The note under the cursor if it is flagged and may be rewritten. */
export function flaggedNote(context: AssistContext): Flagged | null {
  const { reading, note: index } = context;
  if (index === null) return null;
  const read = reading.notes[index]!;
  const level = read.verdict?.level;
  if (level !== 'warning' && level !== 'information') return null;
  const place = placeOf(context, index);
  if (place === null) return null;
  return { note: reading.phrase.notes[index]!, read, rule: level === 'warning' ? 'clash' : 'rub', ...place };
}

/** The group and slot in which a note starts; null where it may not be rewritten. */
export function placeOf({ reading: { phrase } }: AssistContext, note: number): { group: number; slot: number } | null {
  const group = phrase.groups.findIndex((one) => one.slots.some((slot) => slot.kind === 'note' && slot.note === note));
  if (group < 0 || !isRewritable(phrase, phrase.groups[group]!)) return null;
  return { group, slot: phrase.groups[group]!.slots.findIndex((slot) => slot.kind === 'note' && slot.note === note) };
}

/** Offers another pitch for a flagged note, if that mends it. */
export function withPitch(context: AssistContext, flagged: Flagged, pitch: Pitch, title: (name: string) => string): Offer[] {
  const { phrase } = context.reading;
  const slots = slotsAsWritten(phrase.groups[flagged.group]!);
  slots[flagged.slot] = { kind: 'pitch', pitch, like: flagged.note };
  return offerPlan(context, new Map([[flagged.group, slots]]), title(formatNoteName(pitch)), { repaired: flagged.note.index, repairs: flagged.rule, preferred: false });
}

export interface OfferKind {
  /** The note whose finding must be gone. */
  readonly repaired: number | null;
  /** The rule of that finding. */
  readonly repairs: string | null;
  readonly preferred: boolean;
  /** What the analysis must find in the result. */
  readonly device?: Wanted['device'];
}

/** How an offer is told from other forms. */
export type Form = Pick<Offer, 'detail' | 'device' | 'shape' | 'each'>;

/** A plan as an offer, if it proves sound. */
export function offerPlan(context: AssistContext, plan: ReadonlyMap<number, readonly NewSlot[]>, title: string, kind: OfferKind, form: Form = {}): Offer[] {
  const edits = editsOf(context.reading.phrase, plan);
  if (edits === null) return [];
  const sound = verified(context, edits, { repaired: kind.repaired, groups: [...plan.keys()], ...(kind.device === undefined ? {} : { device: kind.device }) });
  return sound === null ? [] : [{ title, ...form, edits: sound, repairs: kind.repairs, preferred: kind.preferred }];
}
