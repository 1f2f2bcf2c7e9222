/**
 * The published table of avoid notes: the encyclopedia article “Avoid note”, after Nettles, Harmony 1 (1987) and Harmony 3 (1987),
 * its melodic-minor rows after Haerle, The Jazz Language (1980). The harmonic profile gives it cell by cell; the melodic profile
 * differs in one cell.
 */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { roleOf, type ChordInPlace } from '../../server/src/analysis/role';
import { readChord } from '../../server/src/theory/chord';
import { figureName, formatFigure, parseFigure } from '../../server/src/theory/figure';
import { transposeName, type Shift } from '../../server/src/theory/interval';
import { scale } from '../../server/src/theory/scale';
import type { Chord, ScaleName } from '../../server/src/theory/types';

// chord, scale, avoid notes, tensions
const TABLE: readonly (readonly [string, ScaleName, string, string])[] = [
  ['Cmaj7', 'ionian', '11', '9 13'],
  ['Dm7', 'dorian', '13', '9 11'],
  ['Em7', 'phrygian', 'b9 b13', '11'],
  ['Fmaj7', 'lydian', '', '9 #11 13'],
  ['G7', 'mixolydian', '11', '9 13'],
  ['Am7', 'aeolian', 'b13', '9 11'],
  ['Bm7b5', 'locrian', 'b9', '11 b13'],
  ['Cm(maj7)', 'melodic minor', '', '9 11 13'],
  ['Dm7', 'dorian b2', 'b9', '11 13'],
  ['Ebmaj7#5', 'lydian augmented', '13', '9 #11'],
];

function placed(symbol: string, name: ScaleName): ChordInPlace {
  const chord = readChord(symbol) as Chord;
  return { chord, scale: scale(chord.root, name), falls: false, triadFalls: false, tonicMinor: false, keyNotes: null };
}

function rolesIn(place: ChordInPlace, profile: 'melodic' | 'harmonic', shift: Shift): Record<string, string> {
  const root = transposeName(place.chord.root, shift);
  const symbol = place.chord.symbol.replace(/^[A-G][b#]?/, '');
  const moved = placed(`${root.letter}${root.alter < 0 ? 'b' : root.alter > 0 ? '#' : ''}${symbol}`, place.scale!.name);
  return Object.fromEntries(
    moved.scale!.tones.flatMap((tone) => {
      const { role, figure } = roleOf(tone.name, moved, { ...DEFAULT_THEORY, profile });
      return role === 'chord-tone' ? [] : [[formatFigure(figure), role]];
    }),
  );
}

const SHIFTS: readonly Shift[] = [
  { diatonic: 0, chromatic: 0 },
  { diatonic: 2, chromatic: 3 },
  { diatonic: 3, chromatic: 5 },
  { diatonic: 1, chromatic: 2 },
];

describe.each(TABLE)('%s %s', (symbol, name, avoid, tensions) => {
  const expected = Object.fromEntries([
    ...words(avoid).map((figure) => [figure, 'avoid']),
    ...words(tensions).map((figure) => [figure, 'tension']),
  ]);

  test('in the harmonic profile, cell by cell, in several keys', () => {
    for (const shift of SHIFTS) expect(rolesIn(placed(symbol, name), 'harmonic', shift)).toEqual(expected);
  });

  test('in the melodic profile, with the one difference', () => {
    const melodic = symbol === 'Dm7' && name === 'dorian' ? { ...expected, 13: 'tension' } : expected;
    expect(rolesIn(placed(symbol, name), 'melodic', { diatonic: 0, chromatic: 0 })).toEqual(melodic);
  });
});

function words(text: string): string[] {
  return text === '' ? [] : text.split(' ');
}

describe('the cells on which teachers differ, each a setting', () => {
  const role = (symbol: string, name: ScaleName, figure: string, options: object, place: object = {}): string => {
    const at = { ...placed(symbol, name), ...place };
    return roleOf(figureName(at.chord.root, parseFigure(figure)!), at, { ...DEFAULT_THEORY, ...options }).role;
  };
  test('natural 9 of m7b5 (Terefenko, Jazz Theory, 2014, ch. 5; from memory)', () => {
    expect(role('Bm7b5', 'locrian', '9', {})).toBe('tension');
    expect(role('Bm7b5', 'locrian', '9', { natural9OfHalfDiminished: false })).toBe('outside');
  });
  test('b6 of a tonic minor (common practice)', () => {
    expect(role('Am7', 'aeolian', 'b13', {}, { tonicMinor: true })).toBe('avoid');
    expect(role('Am7', 'aeolian', 'b13', { flat6OfTonicMinor: true }, { tonicMinor: true })).toBe('tension');
  });
  test('13 over lydian augmented', () => {
    expect(role('Ebmaj7#5', 'lydian augmented', '13', { thirteenthOfLydianAugmented: true })).toBe('tension');
  });
  test('3 over a sus chord (common practice)', () => {
    expect(role('G7sus', 'mixolydian', '3', {})).toBe('tension');
    expect(role('G7sus', 'mixolydian', '3', { thirdOfSuspended: false })).toBe('avoid');
  });
});
