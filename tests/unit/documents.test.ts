/** A document after any changes, in it or beside it, is what it would be if it were opened with that text. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { noting } from '../../server/src/protocol/documents';
import { always, RUN } from '../property/arbitrary';

const DOCUMENTS = noting(new WeakMap());
type Change = Parameters<typeof DOCUMENTS.update>[1][number];

function expectWhole(text: string, changes: Change[]): void {
  const document = DOCUMENTS.update(DOCUMENTS.create('file:///a', 'phrase', 1, text), changes, 2);
  const afresh = TextDocument.create('file:///a', 'phrase', 2, document.getText());
  expect([document.version, document.lineCount]).toEqual([2, afresh.lineCount]);
  for (let offset = 0; offset <= document.getText().length; offset += 1) {
    const place = document.positionAt(offset);
    expect(place).toEqual(afresh.positionAt(offset));
    expect(document.offsetAt(place)).toBe(afresh.offsetAt(place));
  }
}

test('a line that is written below the last one', () => {
  expectWhole('a\nb\n', [
    { range: { start: { line: 13, character: 0 }, end: { line: 14, character: 0 } }, text: '\r' },
    { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: 'x' },
  ]);
});

test('any changes', () => {
  const place = fc.record({
    line: fc.oneof(fc.integer({ min: -2, max: 8 }), fc.constant(2 ** 31 - 1)),
    character: fc.oneof(fc.integer({ min: -2, max: 8 }), fc.constant(2 ** 31 - 1)),
  });
  const words = fc
    .array(fc.constantFrom('a', 'bc', '\n', '\n', '\r', '\r\n', '🎷', '\ud83c'), { maxLength: 8 })
    .map((parts) => parts.join(''));
  const change = fc.oneof(
    { weight: 6, arbitrary: fc.record({ range: fc.record({ start: place, end: place }), text: words }) },
    { weight: 1, arbitrary: fc.record({ text: words }) },
  );
  always(fc.property(words, fc.array(change, { maxLength: 6 }), expectWhole), { ...RUN, numRuns: 500 });
});
