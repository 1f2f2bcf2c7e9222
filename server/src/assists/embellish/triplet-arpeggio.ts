import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist } from '../assist';
import { chordToneBeside } from '../writing/neighbours';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, slotsAsWritten } from '../writing/plan';
import { soundTarget } from './lead-in';

export const tripletArpeggio: Assist = {
  id: 'triplet-arpeggio',
  kind: 'refactor.rewrite.triplet-arpeggio',
  what: 'Turns the hold or the rest before a chord tone into a triplet that climbs the chord before it.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    const { phrase } = context.reading;
    const before = phrase.groups[target.group - 1];
    if (
      before === undefined ||
      !isRewritable(phrase, before) ||
      !before.beats.equals(1) ||
      before.slots.length !== 1 ||
      before.slots[0]!.kind === 'note'
    )
      return [];
    const chord = phrase.spans.findLast((span) => span.onset.compare(before.onset) <= 0)?.chord;
    if (chord == null) return [];
    const notes = climbing((from) => chordToneBeside(chord, from, 'below'), midi(target.pitch));
    if (notes === null) return [];
    const plan = new Map([
      [target.group - 1, notes.map((pitch) => ({ kind: 'pitch' as const, pitch, like: null }))],
      [target.group, slotsAsWritten(phrase.groups[target.group]!)],
    ]);
    const title = `Climb to ${formatNoteName(target.pitch)} by a triplet: ${notes.map(formatNoteName).join('-')} ${formatNoteName(target.pitch)}`;
    const wanted = { repaired: null, repairs: null, preferred: false, device: { kind: 'triplet-arpeggio' as const, at: before.onset } };
    return offerPlan(context, plan, title, wanted, { each: 'Climb to each target by a triplet' });
  },
};

/** Three notes below a sound, lowest first. */
function climbing(below: (from: number) => Pitch | null, target: number): Pitch[] | null {
  const notes: Pitch[] = [];
  for (let from = target; notes.length < 3; from = midi(notes[0]!)) {
    const next = below(from);
    if (next === null) return null;
    notes.unshift(next);
  }
  return notes;
}
