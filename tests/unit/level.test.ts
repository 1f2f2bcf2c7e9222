/** The suggested level: what is counted, what is said of it, and how far it agrees with a judge. */
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { levelOf, type SuggestedLevel } from '../../server/src/explain/level';
import { openSnapshot } from '../../server/src/model/snapshot';
import { levelAgreement, rankCorrelation } from '../bench/level-agreement';
import { always, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from '../property/arbitrary';

const anyWellFormedPhrase = fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary);

function levelIn(rows: string, over: string, line: string): SuggestedLevel {
  return levelOfText(`phrase "A"\n  ${rows}\n  over ${over}\n  line ${line}\n`);
}

function levelOfText(text: string): SuggestedLevel {
  return levelOf(readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY));
}

test('Spearman’s coefficient of published ranks, and of ties', () => {
  // Ten pairs (a test score, hours of television a week) in the encyclopedia article "Spearman's rank correlation coefficient": -29/165; from memory.
  expect(rankCorrelation([106, 100, 86, 101, 99, 103, 97, 113, 112, 110], [7, 27, 2, 50, 28, 29, 20, 12, 6, 17])).toBeCloseTo(-29 / 165, 9);
  expect(rankCorrelation([1, 1, 2], [5, 5, 9])).toBeCloseTo(1, 9);
});

describe('the points', () => {
  const agreement = levelAgreement(join(import.meta.dirname, '..', '..'));

  test('agree with thirty phrases ranked twice before they were computed', () => {
    expect(agreement.phrases).toBe(30);
    expect(agreement.rankings).toBeGreaterThanOrEqual(0.8);
    expect(agreement.points).toBeGreaterThanOrEqual(0.8);
  });

  test('agree with the levels that writers gave their samples', () => {
    // Five levels for 36 phrases leave many ties, and a lesson grades its phrases among themselves: less can be expected.
    expect(agreement.samples.phrases).toBeGreaterThan(30);
    expect(agreement.samples.points).toBeGreaterThanOrEqual(0.6);
  });
});

const PLAIN = ['key C major', '| Cmaj7 | G7 | Cmaj7 |', '| C4 E G E | D F B3 D4 | C ~ ~ . |'] as const;

test('a plain line is of level 1', () => {
  expect(levelIn(...PLAIN)).toEqual({ level: 1, points: expect.any(Number), reasons: ['plain in rhythm, range and harmony'] });
});

describe('what makes it harder is counted and said', () => {
  test.each<[string, readonly [string, string, string], string]>([
    ['tempo', ['key C major\n  tempo 240', PLAIN[1], PLAIN[2]], 'up to 4 notes in a bar at 240 beats a minute'],
    ['chords that go by fast', ['key C major', '| Cmaj7 A7 / D7 | G7 E7 A7 D7 | Cmaj7 |', PLAIN[2]], '8 chords in 6 seconds'],
    [
      'an altered note that the symbol writes',
      [PLAIN[0], '| Cmaj7 | G7b9 | Cmaj7 |', '| C4 E G E | D F Ab D4 | C ~ ~ . |'],
      '1 altered or chromatic note',
    ],
    [
      'the b9 of a minor key',
      ['key C minor', '| Cm6 | G7b9 | Cm6 |', '| C4 Eb G Eb | D F Ab D | C ~ ~ . |'],
      '1 altered or chromatic note',
    ],
    ['a chromatic note', [PLAIN[0], PLAIN[1], '| C4 E G E | D F F# G | C ~ ~ . |'], '1 altered or chromatic note'],
    ['syncopation', [PLAIN[0], PLAIN[1], '| C4-E ~-G ~ E | D F B3 D4 | C ~ ~ . |'], '2 syncopated notes'],
    ['an entry after a rest on the beat', [PLAIN[0], PLAIN[1], '| .-C4 E .-G E | D F B3 D4 | C ~ ~ . |'], '2 syncopated notes'],
    ['ties over bar lines', [PLAIN[0], PLAIN[1], '| C4 E G B | ~ F B3 D4 | ~ C ~ . |'], '2 notes tied over a bar line'],
    ['triplets', [PLAIN[0], PLAIN[1], '| C4-E-G G E C | D F B3 D4 | C ~ ~ . |'], 'triplets'],
    ['sixteenths', [PLAIN[0], PLAIN[1], '| C4-D-E-F G E C | D F B3 D4 | C ~ ~ . |'], 'sixteenths'],
    ['duplets in a compound meter', ['key C major\n  meter 6/8', PLAIN[1], '| C4-E G-E-C | D-F-A G-F-D | C ~ |'], 'duplets'],
    ['range', [PLAIN[0], PLAIN[1], '| C4 E G C5 | D F A G | E C ~ . |'], 'a range of an octave and a sixth'],
    [
      'range as it is spelled',
      [PLAIN[0], PLAIN[1], '| D4 F A C5 | Gb5 F D Bb4 | G4 E ~ . |'],
      'a range of an octave and a diminished fourth',
    ],
    [
      'range of an octave by its letters alone',
      [PLAIN[0], PLAIN[1], '| G#4 B D5 F | G6 E C G5 | E5 C ~ . |'],
      'a range of an octave and a seventh',
    ],
    ['range of a tritone more', [PLAIN[0], PLAIN[1], '| F4 A C5 E | B5 G F D | C5 G4 ~ . |'], 'a range of an octave and a tritone'],
    ['leaps', [PLAIN[0], PLAIN[1], '| C4 B4 C4 B4 | D4 B4 D4 B4 | C5 ~ ~ . |'], '7 wide leaps'],
    ['the key', ['key Ab major', '| Abmaj7 | Eb7 | Abmaj7 |', '| Ab4 C5 Eb C | Bb Db5 G4 Bb | Ab ~ ~ . |'], 'a key signature of 4 flats'],
    [
      'the key as the part reads it',
      ['key E major\n  part tenor-sax', '| Emaj7 | B7 | Emaj7 |', '| E4 G# B G# | F# A D# F# | E ~ ~ . |'],
      'a key signature of 6 flats',
    ],
    ['an uneven meter', ['key C major\n  meter 5/4', PLAIN[1], '| C4 E G E C | D F B3 D4 E | C ~ ~ ~ . |'], 'a meter of 5 beats'],
    [
      'length',
      [
        PLAIN[0],
        '| Cmaj7 | G7 | Cmaj7 | % | % | % | % | Cmaj7 |',
        '| C4 E G E | D F B3 D4 | C E G E | C E G E | C E G E | C E G E | C E G E | C ~ ~ . |',
      ],
      '8 bars',
    ],
  ])('%s', (_, phrase, reason) => {
    const { points, reasons } = levelIn(...phrase);
    expect(reasons.join('; ')).toContain(reason);
    expect(points).toBeGreaterThan(levelIn(...PLAIN).points);
  });
});

describe('what makes it no harder is not counted', () => {
  const said = (...phrase: readonly [string, string, string]): string => levelIn(...phrase).reasons.join('; ');

  test('a pickup is no syncopation', () => {
    expect(said(PLAIN[0], PLAIN[1], '.-G3 | C4 E G E | D F B3 D4 | C ~ ~ . |')).not.toContain('syncopated');
  });
  test('the sevenths of a blues are no chromatic notes, its blue notes are', () => {
    expect(said('key F major', '| F7 | Bb7 | F7 |', '| F4 A C5 Eb | D Bb4 Ab Bb | A ~ ~ . |')).not.toContain('chromatic');
    expect(said('key F major', '| F7 | Bb7 | F7 |', '| F4 Ab C5 Eb | D Bb4 Ab Bb | A ~ ~ . |')).toContain('1 altered or chromatic note');
  });
  test('nor is its natural four', () => {
    expect(said('tempo 120', '| F7 | % |', '| C5-Eb F ~ Eb-C | B-Bb Ab-F ~ . |')).toContain('2 altered or chromatic notes');
  });
  test('the notes of a scale that is written are no chromatic notes', () => {
    expect(said('key D minor', '| Dm7:dorian | Ebm7:dorian |', '| D4-F A-B C5 A | Eb5-Db C-Bb Ab Gb |')).not.toContain('chromatic');
    expect(said('key D minor', '| Dm7:dorian | Ebm7:dorian |', '| D4-F A-B C5 A | Eb5-Db C-Bb Ab G |')).toContain(
      '1 altered or chromatic note',
    );
  });
  test('the raised leading tone of a minor key is no chromatic note', () => {
    expect(said('key C minor', '| Cm6 | G7 | Cm6 |', '| C4 Eb G A | B G F D | C ~ ~ . |')).not.toContain('chromatic');
  });
  test('eighths of 6/8 and of 2/2 are plain', () => {
    expect(said('key C major\n  meter 6/8\n  tempo 50', PLAIN[1], '| C4-E-G G-E-C | D-F-A G-F-D | C ~ |')).not.toMatch(
      /triplets|sixteenths|duplets/,
    );
    expect(said('key C major\n  meter 2/2\n  tempo 50', PLAIN[1], '| C4-E-G-E C-E-G-E | D-F-A-G F-D-F-D | C ~ |')).not.toMatch(
      /triplets|sixteenths/,
    );
  });
});

test('of any phrase there is a level, with reasons that are whole; a faster tempo makes none easier', () => {
  always(
    fc.property(anyWellFormedPhrase, fc.integer({ min: 40, max: 280 }), ({ text }, bpm) => {
      const at = (tempo: number): SuggestedLevel =>
        levelOfText(text.replace(/\n {2}tempo .*/, '').replace(/^(phrase .*)$/m, `$1\n  tempo ${tempo}`));
      const [slow, fast] = [at(bpm), at(bpm + 20)];
      expect(fast.points).toBeGreaterThanOrEqual(slow.points);
      expect(fast.level).toBeGreaterThanOrEqual(slow.level);
      expect([1, 2, 3, 4, 5]).toContain(slow.level);
      for (const reason of slow.reasons) expect(reason).toMatch(/^[a-z0-9].*[a-z0-9]$/);
      expect(new Set(slow.reasons).size).toBe(slow.reasons.length);
      expect(slow.reasons.length).toBeGreaterThan(0);
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('a phrase without notes is of level 1', () => {
  expect(levelOfText('phrase "A"\n  over | C |\n')).toEqual({ level: 1, points: 0, reasons: ['no notes'] });
});
