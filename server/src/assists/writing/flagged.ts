/** The note a repair is for: under the cursor, with a finding of its own. */
import type { NoteReading, Reading } from '../../analysis/types';
import type { Note } from '../../model/types';
import type { AssistContext } from '../assist';
import { isRewritable } from './plan';

export interface Flagged {
  readonly note: Note;
  readonly read: NoteReading;
  /** The rule that flags it. */
  readonly rule: 'clash' | 'rub';
  /** Its group's place in `phrase.groups`, and its slot in the group. */
  readonly group: number;
  readonly slot: number;
}

/** The rule that flags a note for how it sounds over its chord; null for none. A hint flags nothing. */
export function flaggedBy({ notes }: Pick<Reading, 'notes'>, note: number): Flagged['rule'] | null {
  const level = notes[note]!.verdict?.level;
  return level === 'warning' ? 'clash' : level === 'information' ? 'rub' : null;
}

/** The note under the cursor if it is flagged and may be rewritten. */
export function flaggedNote(context: AssistContext): Flagged | null {
  const { reading, note: index } = context;
  if (index === null) return null;
  const rule = flaggedBy(reading, index);
  const place = rule === null ? null : placeOf(context, index);
  return rule === null || place === null ? null : { note: reading.phrase.notes[index]!, read: reading.notes[index]!, rule, ...place };
}

/** The group and slot in which a note starts; null where it may not be rewritten. */
export function placeOf({ reading: { phrase } }: AssistContext, note: number): { group: number; slot: number } | null {
  const group = phrase.groups.findIndex((one) => one.slots.some((slot) => slot.kind === 'note' && slot.note === note));
  if (group < 0 || !isRewritable(phrase, phrase.groups[group]!)) return null;
  return { group, slot: phrase.groups[group]!.slots.findIndex((slot) => slot.kind === 'note' && slot.note === note) };
}
