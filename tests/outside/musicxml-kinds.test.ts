/**
 * The chord engine against the recipes in the documentation of the data type `kind-value` of W3C MusicXML 4.0 (musicxml.xsd,
 * W3C Community Final Specification). Each kind's intervals are built from the recipe's own words.
 */
import { describe, expect, test } from 'vitest';
import { readChord } from '../../server/src/theory/chord';

const INTERVALS: Readonly<Record<string, number>> = {
  'major third': 4,
  'minor third': 3,
  'perfect fifth': 7,
  'augmented fifth': 8,
  'diminished fifth': 6,
  'minor seventh': 10,
  'major seventh': 11,
  'added sixth': 9,
  'major ninth': 2,
  'perfect 11th': 5,
  'major 13th': 9,
  'major second': 2,
  'perfect fourth': 5,
};

/** kind: the recipe as published; a symbol for it; tones the symbol leaves out, which MusicXML says by `degree` elements. */
const RECIPES: readonly (readonly [string, string, string, (readonly number[])?])[] = [
  ['major', 'major third, perfect fifth', 'C'],
  ['minor', 'minor third, perfect fifth', 'Cm'],
  ['augmented', 'major third, augmented fifth', 'Caug'],
  ['diminished', 'minor third, diminished fifth', 'Cdim'],
  ['dominant', 'major triad, minor seventh', 'C7'],
  ['major-seventh', 'major triad, major seventh', 'Cmaj7'],
  ['minor-seventh', 'minor triad, minor seventh', 'Cm7'],
  ['augmented-seventh', 'augmented triad, minor seventh', 'C+7'],
  ['half-diminished', 'diminished triad, minor seventh', 'Cm7b5'],
  ['major-minor', 'minor triad, major seventh', 'Cm(maj7)'],
  ['major-sixth', 'major triad, added sixth', 'C6'],
  ['minor-sixth', 'minor triad, added sixth', 'Cm6'],
  ['dominant-ninth', 'dominant, major ninth', 'C9'],
  ['major-ninth', 'major-seventh, major ninth', 'Cmaj9'],
  ['minor-ninth', 'minor-seventh, major ninth', 'Cm9'],
  ['dominant-11th', 'dominant-ninth, perfect 11th', 'C11'],
  ['minor-11th', 'minor-ninth, perfect 11th', 'Cm11'],
  ['dominant-13th', 'dominant-11th, major 13th', 'C13', [5]],
  ['major-13th', 'major-11th, major 13th', 'Cmaj13', [5]],
  ['minor-13th', 'minor-11th, major 13th', 'Cm13'],
  ['suspended-second', 'major second, perfect fifth', 'Csus2'],
  ['suspended-fourth', 'perfect fourth, perfect fifth', 'Csus4'],
  ['power', 'perfect fifth', 'C5'],
  ['major-11th', 'major-ninth, perfect 11th', 'Cmaj11'],
];

const byKind = new Map(RECIPES.map(([kind, recipe]) => [kind, recipe]));

/** The pitch classes of a recipe; the names of triads and kinds in it are looked up in turn. */
function built(recipe: string): number[] {
  return [
    0,
    ...recipe.split(', ').flatMap((word) => {
      const interval = INTERVALS[word];
      return interval !== undefined ? [interval] : built(byKind.get(word.replace(' triad', ''))!);
    }),
  ];
}

const sorted = (pitches: Iterable<number>): number[] => [...new Set(pitches)].sort((a, b) => a - b);

describe.each(RECIPES.map(([kind, recipe, symbol, left]) => ({ kind, recipe, symbol, left: left ?? [] })))(
  'kind $kind ($recipe)',
  ({ kind, recipe, symbol, left }) => {
    const chord = readChord(symbol);
    test(`${symbol} holds what the recipe says`, () => {
      expect('tones' in chord).toBe(true);
      if (!('tones' in chord)) return;
      expect(sorted([...chord.tones.map((tone) => tone.interval), ...left])).toEqual(sorted(built(recipe)));
      expect(chord.kind).toBe(kind);
    });
  },
);

test('diminished-seventh (diminished triad, diminished seventh)', () => {
  const chord = readChord('Cdim7');
  expect('tones' in chord && [chord.kind, ...chord.tones.map((tone) => tone.interval)]).toEqual(['diminished-seventh', 0, 3, 6, 9]);
});
