import { devicesOf } from '../../analysis/devices/read';
import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { placeOf } from '../writing/flagged';
import { offerPlan } from '../writing/offer-plan';
import { slotsAsWritten, type NewSlot } from '../writing/plan';

export const invertArpeggio: Assist = {
  id: 'invert-arpeggio',
  kind: 'refactor.rewrite.arpeggio',
  what: 'Turns an arpeggio round: the same notes in the same rhythm, from the other end.',
  offers(context) {
    const { reading, note } = context;
    const { phrase } = reading;
    const found = devicesOf(reading).find(({ kind, notes }) => kind === 'arpeggio' && note !== null && notes.includes(note));
    if (found === undefined) return [];
    const plan = new Map<number, NewSlot[]>();
    const pitches = found.notes.map((one) => phrase.notes[one]!.pitch).reverse();
    for (const [i, one] of found.notes.entries()) {
      const place = placeOf(context, one);
      if (place === null) return [];
      const slots = plan.get(place.group) ?? slotsAsWritten(phrase.groups[place.group]!);
      slots[place.slot] = { kind: 'pitch', pitch: pitches[i]!, like: phrase.notes[one]! };
      plan.set(place.group, slots);
    }
    const way = found.detail === 'rising' ? 'Let the arpeggio fall' : 'Let the arpeggio rise';
    const device = { kind: 'arpeggio' as const, at: phrase.notes[found.from]!.onset };
    return offerPlan(context, plan, `${way}: ${pitches.map(formatNoteName).join('-')}`, {
      repaired: null,
      repairs: null,
      preferred: false,
      device,
    });
  },
};
