/** Repairs of a bar that was made too long: the result reads without error, and every note is still written, in its order. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseSlice } from '../../grammar/parser';
import { applyEdits } from '../../grammar/printer';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { longBar } from '../../server/src/assists/repair/long-bar';
import { offersAt } from '../../server/src/assists/registry';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { always, phraseArbitrary, RUN } from './arbitrary';

/** A well-formed phrase with some more groups at the end of one of its bars. */
const tooLong = fc
  .tuple(phraseArbitrary, fc.nat(), fc.array(fc.constantFrom('C', 'D-E', '~', '.', 'F-~-G'), { minLength: 1, maxLength: 6 }))
  .map(([{ text }, pick, more]) => {
    const { item } = parseSlice(text);
    const bars =
      item.kind === 'phrase' ? item.rows.flatMap((row) => (row.kind === 'line' ? row.bars : [])).filter(({ open }) => open !== null) : [];
    const at = bars[pick % bars.length]!.range.end;
    return { text: `${text.slice(0, at)} ${more.join(' ')}${text.slice(at)}`, at };
  });

test('a repair of a bar too long reads without error, with the same notes in the same order', () => {
  const counts = { moved: 0, halved: 0 };
  always(
    fc.property(tooLong, ({ text, at }) => {
      const snapshot = openSnapshot('file:///a.phrase', 1, text);
      const offers = offersAt(snapshot, { start: at, end: at, only: ['quickfix'] }, DEFAULT_THEORY, (error) => {
        throw error;
      }).filter(({ assist }) => assist === longBar.id);
      const errors = errorsIn(text);
      for (const offer of offers) {
        counts[offer.title.startsWith('Halve') ? 'halved' : 'moved'] += 1;
        const after = applyEdits(
          text,
          offer.edits().map((edit) => ({ range: { start: edit.start, end: edit.end }, text: edit.text })),
        );
        expect(errors).toContain('bar-length');
        expect(
          errorsIn(after).filter((rule) => rule === 'bar-length'),
          after,
        ).toEqual([]);
        expect(errorsIn(after).length, after).toBeLessThan(errors.length);
        expect(headsIn(after), after).toEqual(headsIn(text));
      }
    }),
    { ...RUN, numRuns: 400 },
  );
  expect(counts.moved).toBeGreaterThan(15);
  expect(counts.halved).toBeGreaterThan(15);
});

function errorsIn(text: string): string[] {
  return findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY)
    .filter(({ severity }) => severity === 'error')
    .map(({ rule }) => rule);
}

/** The notes of the line as they are written, in order. */
function headsIn(text: string): string[] {
  const { item } = parseSlice(text);
  const groups =
    item.kind !== 'phrase' ? [] : item.rows.flatMap((row) => (row.kind === 'line' ? row.bars.flatMap((bar) => bar.groups) : []));
  return groups.flatMap((group) =>
    group.kind === 'cell'
      ? []
      : group.slots.flatMap((slot) => (slot.kind === 'note' ? [text.slice(slot.range.start, slot.range.end)] : [])),
  );
}
