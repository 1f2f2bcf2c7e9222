import { chordUnder, isDominant } from '../../analysis/vocabulary';
import { figureName, formatFigure } from '../../theory/figure';
import { midi, nearestOctave } from '../../theory/pitch';
import type { Figure } from '../../theory/types';
import type { Assist } from '../assist';
import { placeOf } from '../writing/flagged';
import { offerPlan } from '../writing/offer-plan';
import { shownNames, slotsAsWritten } from '../writing/plan';

export const swapTension: Assist = {
  id: 'swap-tension',
  kind: 'refactor.rewrite.tension',
  what: 'Swaps a tension over a dominant for its altered form and back: 9 and b9, 13 and b13.',
  repeats: true,
  offers(context) {
    const { reading, note: index } = context;
    const placement = index === null ? null : reading.notes[index]!.placement;
    const place = index === null ? null : placeOf(context, index);
    if (index === null || placement === null || place === null) return [];
    const chord = chordUnder(reading, index);
    const other = otherForm(placement.figure);
    if (chord === null || !isDominant(chord) || other === null || chord.tones.some(({ figure }) => figure.number === other.number))
      return [];
    const note = reading.phrase.notes[index]!;
    const pitch = nearestOctave(figureName(chord.root, other), note.midi);
    const slots = slotsAsWritten(reading.phrase.groups[place.group]!);
    slots[place.slot] = { kind: 'pitch', pitch, like: note };
    if (midi(pitch) === note.midi) return [];
    const title = `Play the ${formatFigure(other)} in place of the ${formatFigure(placement.figure)}: ${shownNames(reading.phrase, [pitch], reading.phrase.groups[place.group]!)[0]!}`;
    return offerPlan(
      context,
      new Map([[place.group, slots]]),
      title,
      { repaired: null, repairs: null, preferred: false },
      { each: `Play ${formatFigure(other)} in place of ${formatFigure(placement.figure)} everywhere` },
    );
  },
};

function otherForm({ number, alter }: Figure): Figure | null {
  if (number !== 9 && number !== 13) return null;
  if (alter === 0) return { number, alter: -1 };
  return alter === -1 ? { number, alter: 0 } : null;
}
