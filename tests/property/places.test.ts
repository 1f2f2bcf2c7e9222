/** Wherever the cursor stands, hover, walk-through, score and actions speak of the phrase whose slice holds it. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sliceFile } from '../../grammar/slices';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { offersAt } from '../../server/src/assists/registry';
import { hoverAt } from '../../server/src/features/hover/index';
import { phraseNear } from '../../server/src/features/place';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot, phraseAt, type Snapshot } from '../../server/src/model/snapshot';
import { always, plainPhraseArbitrary, RUN } from './arbitrary';

const fail = (error: unknown): never => {
  throw error;
};

/** The places of all edits of the actions of a kind. */
function edited(snapshot: Snapshot, offset: number, kind: string): { start: number; end: number }[] {
  return offersAt(snapshot, { start: offset, end: offset, only: [kind] }, DEFAULT_THEORY, fail)
    .slice(0, 2)
    .flatMap((offer) => [...offer.edits()]);
}

test('where one phrase ends and the next begins, an action rewrites the next', () => {
  const text = 'phrase "A"\n  over | C7 |\n  line | C4 E G E |\nphrase "B"\n  over | F7 |\n  line | F4 A C A |\n';
  const snapshot = openSnapshot('file:///a.phrase', 1, text);
  const second = text.indexOf('phrase "B"');
  const edits = edited(snapshot, second, 'refactor.rewrite.transpose');
  expect(edits.length).toBeGreaterThan(0);
  expect(edits.filter(({ start }) => start < second)).toEqual([]);
});

const between = fc.constantFrom('', '\n', '// A comment.\n', 'cell climb = 1-2 3-5\n', '\nchanges home = | C7 | F7 |\n', 'lesson "L"\n');

test('hover, walk-through, score and actions agree on the phrase, the ends of slices included', () => {
  let seen = 0;
  always(
    fc.property(fc.array(fc.tuple(between, plainPhraseArbitrary), { minLength: 2, maxLength: 3 }), between, (parts, last) => {
      const text = parts.map(([before, phrase], i) => before + phrase.text.replace(/phrase "\w+"/, `phrase "P${i}"`)).join('') + last;
      const snapshot = openSnapshot('file:///a.phrase', 1, text);
      const slices = sliceFile(text);
      const ends = new Set(
        slices.flatMap(({ start, text: own }) => [start - 1, start, start + 1, start + own.length - 1, start + own.length]),
      );
      for (let offset = 0; offset <= text.length; offset += 1) {
        const slice = slices.findLast(({ start }) => start <= offset)!;
        const name = /^phrase "(\w+)"/m.exec(slice.text)?.[1] ?? null;
        const here = phraseAt(snapshot, offset);
        expect(here?.phrase.name ?? null, `at ${offset} of ${JSON.stringify(text)}`).toBe(name);
        if (here === null || !ends.has(offset)) continue;
        const inside = (place: { start: number; end: number }): boolean =>
          place.start >= slice.start && place.end <= slice.start + slice.text.length;
        expect(phraseNear(snapshot, offset)).toBe(here);
        const score = scoreAt(snapshot, offset, DEFAULT_THEORY, { scope: 'phrase', pitch: 'written' });
        expect(score.phrases.map((one) => one.name)).toEqual([name]);
        const hover = hoverAt(snapshot, offset, DEFAULT_THEORY);
        if (hover !== null) expect(inside(hover)).toBe(true);
        expect(edited(snapshot, offset, 'refactor.rewrite.transpose').filter((edit) => !inside(edit))).toEqual([]);
        seen += 1;
      }
    }),
    { ...RUN, numRuns: 25 },
  );
  expect(seen).toBeGreaterThan(100);
});
