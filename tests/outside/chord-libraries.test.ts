/**
 * The chord engine against two general music libraries of the npm registry, `tonal` and `chord-symbol`: every symbol that they
 * also read, on four roots. Where they differ, the difference is listed with its reason; a listed one that vanishes fails too.
 */
import { describe, expect, test } from 'vitest';
import { chordSymbols, ours, QUALITIES, ROOTS, tonals } from './second-opinions';

const SHARPENED_NINE = 'a sign after a figure alters the number that follows it, as guides to chord symbols have it';
const KEPT_FIFTH = 'the b13 is a tension above the chord, which keeps its fifth';

/** The quality, and why the library’s answer is not followed. */
const TONAL_DIFFERS: Readonly<Record<string, string>> = {
  '^': 'a triangle alone is a major seventh, as after a root it always is',
  '7alt': 'the altered chord holds b9 #9 #11 b13, not only two of them',
  '11': 'a third is left out of an 11 chord by players, not by the symbol',
  m13: 'an extension implies those below it, and a minor third leaves the natural 11 free',
  '7b13': KEPT_FIFTH,
  '7b9b5': 'the b5 replaces the fifth',
};
const CHORD_SYMBOL_DIFFERS: Readonly<Record<string, string>> = {
  '6(9)': 'a 9 in parentheses after a 6 adds no seventh',
  '11': 'a third is left out of an 11 chord by players, not by the symbol',
  '7-9': SHARPENED_NINE,
  '7+9': SHARPENED_NINE,
  '7b13': KEPT_FIFTH,
  '7b9b13': KEPT_FIFTH,
  '7(b9,b13)': KEPT_FIFTH,
  '7#9b13': KEPT_FIFTH,
};

describe.each(ROOTS)('on %s', (root) => {
  test.each(QUALITIES)('“%s” is read', (quality) => {
    expect(ours(root + quality)).not.toBeNull();
  });

  test('tonal agrees, but for the list', () => {
    expect(disagreements((symbol) => tonals(symbol, root), root)).toEqual(Object.keys(TONAL_DIFFERS).sort());
  });

  test('chord-symbol agrees, but for the list', () => {
    expect(disagreements(chordSymbols, root)).toEqual(Object.keys(CHORD_SYMBOL_DIFFERS).sort());
  });
});

function disagreements(library: (symbol: string) => string | null, root: string): string[] {
  return QUALITIES.filter((quality) => {
    const answer = library(root + quality);
    return answer !== null && answer !== ours(root + quality);
  }).sort();
}

test('the libraries read most of the symbols, so that the comparison means something', () => {
  const read = QUALITIES.filter((quality) => tonals(`C${quality}`, 'C') !== null || chordSymbols(`C${quality}`) !== null);
  expect(read.length).toBeGreaterThan(QUALITIES.length * 0.95);
});
