/** An embellishment of each note of a selection: worked out from the last note to the first, each on the text that the one before left. */
import type { TextEdit } from '../../../../grammar/tree';
import type { Pieces } from '../../model/pieces';
import type { Assist, AssistContext, Offer, Tries } from '../assist';
import { afterOffer } from '../writing/after-offer';

/** What an assist offers for a selection of several notes: its own offers for a stretch, and what it can do to a note done to all. */
export function* eachOffers(assist: Assist, asked: AssistContext): Pieces<readonly Offer[]> {
  // What can be done to every note is known only when all notes are tried.
  const { tries: _, ...context } = asked;
  if (assist.repeats !== true) return assist.offers(context);
  const single = assist
    .offers({ ...context, tries: (form, prove) => (form.each === undefined ? prove() : []) })
    .filter((offer) => offer.each === undefined);
  return [...single, ...(yield* manners(assist, context)).map((each) => toEach(assist, context, each))];
}

/** The names of what the assist can do to at least two of the notes; it is proved for no more than two. */
function* manners(assist: Assist, context: AssistContext): Pieces<string[]> {
  const found = new Map<string, number>();
  for (const note of context.selected) {
    yield;
    const offers = assist.offers({ ...context, note, selected: [], tries: oneOfEach((each) => (found.get(each) ?? 0) < ENOUGH) });
    for (const name of new Set(offers.flatMap(({ each }) => each ?? []))) found.set(name, (found.get(name) ?? 0) + 1);
  }
  return [...found].flatMap(([name, count]) => (count < ENOUGH ? [] : [name]));
}

/** What can be done to one note alone is no offer for a selection. */
const ENOUGH = 2;

/** Proves forms for one note by what they are called where it is done to each: of those wanted, until one holds. */
function oneOfEach(isWanted: (each: string) => boolean): Tries {
  const held = new Set<string>();
  return ({ each }, prove) => {
    if (each === undefined || held.has(each) || !isWanted(each)) return [];
    const offers = prove();
    if (offers.length > 0) held.add(each);
    return offers;
  };
}

function toEach(assist: Assist, context: AssistContext, name: string): Offer {
  const edits = (): readonly TextEdit[] => {
    // Edits for a later note begin in the group before it, so they leave the notes before that where they are.
    const done = [...context.selected].reverse().reduce((current, note) => {
      const offer = assist
        .offers({ ...current, note, selected: [], tries: oneOfEach((each) => each === name) })
        .find(({ each }) => each === name);
      return offer === undefined ? current : afterOffer(current, offer);
    }, context);
    return [shortest(context.placed.phrase.text, done.placed.phrase.text)];
  };
  return { title: name, edits, repairs: null, preferred: false };
}

/** One edit from a text to another, without the words they share at both ends: an edit that ended inside a note would say that its rest stayed. */
function shortest(from: string, to: string): TextEdit {
  let start = 0;
  while (start < from.length && start < to.length && from[start] === to[start]) start += 1;
  let end = 0;
  while (end < from.length - start && end < to.length - start && from[from.length - 1 - end] === to[to.length - 1 - end]) end += 1;
  while (start > 0 && /\S/.test(from[start - 1]!)) start -= 1;
  while (end > 0 && /\S/.test(from[from.length - end]!)) end -= 1;
  return { range: { start, end: from.length - end }, text: to.slice(start, to.length - end) };
}
