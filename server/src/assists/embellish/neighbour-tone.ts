import { formatNoteName, midi } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { offerPlan } from '../writing/offer-plan';
import { isRewritable, shownNames, type NewSlot } from '../writing/plan';
import { soundTarget } from './lead-in';
import type { Target } from './target';

export const neighbourTone: Assist = {
  id: 'neighbour-tone',
  kind: 'refactor.rewrite.neighbour-tone',
  what: 'Moves a long note to its upper or lower neighbour and back, in the time of its hold.',
  repeats: true,
  offers(context) {
    const target = soundTarget(context);
    if (target === null) return [];
    return sides(target).flatMap(({ neighbour, side }) => turnAway(context, target, neighbour, side));
  },
};

/** The scale step above; below, the half step, which leans harder. */
function sides({ pitch, scale }: Target): { neighbour: Pitch; side: 'upper' | 'lower' }[] {
  const above = scale === null ? null : scaleNoteBeside(scale, midi(pitch), 'above');
  const upper = above !== null && midi(above) - midi(pitch) <= 2 ? above : leaningNote(pitch, 2, 'above');
  return [
    { neighbour: upper, side: 'upper' },
    { neighbour: leaningNote(pitch, 1, 'below'), side: 'lower' },
  ];
}

/** `E ~` becomes `E F-E`; a note of two beats in one group becomes `E-~-F-E`. */
function turnAway(context: AssistContext, target: Target, neighbour: Pitch, side: 'upper' | 'lower'): Offer[] {
  const { phrase } = context.reading;
  const group = phrase.groups[target.group]!;
  const next = phrase.groups[target.group + 1];
  const main: NewSlot = { kind: 'keep', note: target.note.index };
  const away: NewSlot[] = [
    { kind: 'pitch', pitch: neighbour, like: null },
    { kind: 'pitch', pitch: target.pitch, like: null },
  ];
  const name = formatNoteName(target.pitch);
  const names = [name, ...shownNames(phrase, [neighbour], group), name];
  const title = `Move ${names[0]} to its ${side} neighbour and back: ${names[0]} ${names[1]}-${names[2]}`;
  if (group.slots.length !== 1) return [];
  const offer = (plan: ReadonlyMap<number, readonly NewSlot[]>, at: Target['note']['onset']): Offer[] =>
    offerPlan(
      context,
      plan,
      title,
      { repaired: null, repairs: null, preferred: false, device: { kind: 'neighbour-tone', at } },
      { shape: side, each: `Move each long note to its ${side} neighbour and back` },
    );
  if (group.beats.equals(2))
    return offer(new Map([[target.group, [main, { kind: 'hold' }, ...away]]]), group.onset.add(group.duration.div(2)));
  const held =
    next !== undefined && isRewritable(phrase, next) && next.slots.length === 1 && next.slots[0]!.kind === 'hold' && next.beats.equals(1);
  return group.beats.equals(1) && held
    ? offer(
        new Map([
          [target.group, [main]],
          [target.group + 1, away],
        ]),
        next.onset,
      )
    : [];
}
