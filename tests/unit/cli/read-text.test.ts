/** The first byte that is not UTF-8, against the platform's own decoder. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { firstBadByte } from '../../../server/src/read-text';

const decodes = (bytes: Uint8Array): boolean => {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
};

test.each([
  ['Latin-1', [0x41, 0xe9, 0x42], 1],
  ['a cut-off character', [0x41, 0xe2, 0x99], 1],
  ['an overlong slash', [0xc0, 0xaf], 0],
  ['half a surrogate pair', [0x41, 0x42, 0xed, 0xa0, 0x80], 2],
  ['beyond Unicode', [0xf4, 0x90, 0x80, 0x80], 0],
  ['a stray continuation', [0xe2, 0x99, 0xad, 0x99], 3],
  ['a flat sign and a saxophone', [0xe2, 0x99, 0xad, 0xf0, 0x9f, 0x8e, 0xb7], 7],
])('%s', (_, bytes, at) => {
  expect(firstBadByte(Uint8Array.from(bytes))).toBe(at);
});

test('what stands before the first bad byte is UTF-8, and the byte begins no character', () => {
  const piece = fc.oneof(
    fc.string({ unit: 'grapheme', maxLength: 3 }).map((text) => new TextEncoder().encode(text)),
    fc.uint8Array({ maxLength: 4 }),
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
      const bytes = Uint8Array.from(pieces.flatMap((one) => [...one]));
      const at = firstBadByte(bytes);
      expect(decodes(bytes.subarray(0, at))).toBe(true);
      expect(at === bytes.length).toBe(decodes(bytes));
      for (let end = at + 1; end <= bytes.length; end += 1) expect(decodes(bytes.subarray(at, end))).toBe(false);
    }),
    { seed: 20_260, numRuns: 500 },
  );
});
