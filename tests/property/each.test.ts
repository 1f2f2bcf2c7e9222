/** What is offered for each note of a selection: the same as by trying every form on every note, with fewer proofs. */
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { editsOfOffer, type Assist, type AssistContext } from '../../server/src/assists/assist';
import { eachOffers } from '../../server/src/assists/embellish/each';
import { ASSISTS, offersAt } from '../../server/src/assists/registry';
import { afterOffer } from '../../server/src/assists/writing/after-offer';
import { applyEdits } from '../../grammar/printer';
import { finished } from '../../server/src/model/pieces';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, RUN } from './arbitrary';

function wholeSelected(text: string): AssistContext {
  const snapshot = openSnapshot('file:///a.phrase', 1, text);
  const placed = snapshot.phrases[0]!;
  const selected = placed.phrase.notes.map(({ index }) => index);
  const selection = { start: 0, end: placed.phrase.text.length };
  return {
    snapshot,
    placed,
    reading: readPhrase(placed.phrase, DEFAULT_THEORY),
    options: DEFAULT_THEORY,
    selection,
    asked: false,
    note: selected[0] ?? null,
    selected,
  };
}

/** Every form of every note, proved. */
function namesByNote(assist: Assist, context: AssistContext): (readonly string[])[] {
  return context.selected.map((note) => [...new Set(assist.offers({ ...context, note, selected: [] }).flatMap(({ each }) => each ?? []))]);
}

function doneToEach(assist: Assist, context: AssistContext, name: string): string {
  const done = [...context.selected].reverse().reduce((current, note) => {
    const offer = assist.offers({ ...current, note, selected: [] }).find(({ each }) => each === name);
    return offer === undefined ? current : afterOffer(current, offer);
  }, context);
  return done.placed.phrase.text;
}

test('an action is offered for each note where it can be done to two, and does what it does to one note after another', () => {
  let found = 0;
  always(
    fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary), fc.nat(), ({ text }, pick) => {
      const context = wholeSelected(text);
      for (const assist of ASSISTS) {
        const byNote = namesByNote(assist, context);
        if (assist.repeats !== true) expect(byNote.flat(), assist.id).toEqual([]);
        if (context.selected.length < 2) continue;
        const wanted = [...new Set(byNote.flat())].filter((name) => byNote.filter((names) => names.includes(name)).length > 1);
        const offers = finished(eachOffers(assist, context));
        const single = assist
          .offers(context)
          .filter(({ each }) => each === undefined)
          .map(({ title }) => title);
        expect(
          offers.map(({ title }) => title),
          assist.id,
        ).toEqual([...single, ...wanted]);
        const some = offers[single.length + (pick % Math.max(1, wanted.length))];
        if (some === undefined) continue;
        found += 1;
        expect(applyEdits(context.placed.phrase.text, editsOfOffer(some))).toBe(doneToEach(assist, context, some.title));
      }
    }),
    { ...RUN, numRuns: 15 },
  );
  expect(found).toBeGreaterThan(10);
}, 120_000);

test('over a selection an action that does not repeat is asked once', () => {
  const text = 'phrase "A"\n  key C major\n  over | Dm7 | G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D | G-B D-F E-D B-G | E ~ ~ . |\n';
  const asked = ASSISTS.map((assist) => [assist, vi.spyOn(assist, 'offers')] as const);
  try {
    offersAt(openSnapshot('file:///a.phrase', 1, text), { start: 0, end: text.length, only: null }, DEFAULT_THEORY, (error) => {
      throw error;
    });
    // The line has 17 notes; once more for the stretch as one.
    for (const [{ id, repeats }, spy] of asked) expect(spy.mock.calls.length, id).toBe(repeats === true ? 18 : 1);
  } finally {
    for (const [, spy] of asked) spy.mockRestore();
  }
});
