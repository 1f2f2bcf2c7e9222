/**
 * Worked examples, each built from a published definition (or from common practice, and then marked so). The lines are our own;
 * the definition decides what must be said of them.
 */
import { describe, expect, test } from 'vitest';
import { checkClaims } from '../../server/src/analysis/claims/check';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { settingOf } from '../../server/src/analysis/setting';
import type { Reading } from '../../server/src/analysis/types';
import { openSnapshot } from '../../server/src/model/snapshot';
import { formatFigure } from '../../server/src/theory/figure';

function read(over: string, line: string, rows = ''): Reading {
  const { phrase } = openSnapshot('file:///a.phrase', 1, `phrase "A"\n${rows}  over | ${over} |\n  line | ${line} |\n`).phrases[0]!;
  return readPhrase(phrase, DEFAULT_THEORY);
}
const kinds = (reading: Reading): string[] => devicesOf(reading).map(({ kind }) => kind);
const detail = (reading: Reading, kind: string): string | undefined => devicesOf(reading).find((device) => device.kind === kind)?.detail;
const warnings = (reading: Reading): number => reading.notes.filter(({ verdict }) => verdict?.level === 'warning').length;
const scales = (reading: Reading): (string | undefined)[] => reading.scales.map((scale) => scale?.name);
const C = '  key C major\n';

describe('Open Music Theory, “Chord-Scale Theory” (Kocur)', () => {
  test('ii takes dorian, V mixolydian, I ionian', () => {
    expect(scales(read('Dm7 | G7 | Cmaj7', 'D4 F A C | B D F D | E ~ . .', C))).toEqual(['dorian', 'mixolydian', 'ionian']);
  });
  test('iii takes phrygian, vi aeolian', () => {
    expect(scales(read('Em7 | Am7 | Fmaj7', 'E4 G B D | C E A G | A ~ . .', C))).toEqual(['phrygian', 'aeolian', 'lydian']);
  });
  test('m7b5 takes locrian where the line does not choose its natural ninth', () => {
    expect(scales(read('Bm7b5 | E7b9 | Am6', 'B4 D F A | G# B D F | E ~ . .', '  key A minor\n'))[0]).toBe('locrian');
  });
  test('chord tones belong on strong beats: an eleventh there is flagged, a third is not', () => {
    expect(warnings(read('Cmaj7', 'F4-A C-E G ~', C))).toBe(1);
    expect(warnings(read('Cmaj7', 'E4-A C-E G ~', C))).toBe(0);
  });
});

describe('Terefenko, Jazz Theory (2014), ch. 5, table of extensions (from memory)', () => {
  test('the natural ninth is available on a half-diminished chord', () => {
    const reading = read('Bm7b5', 'C#5 A F D', '  key A minor\n');
    expect(reading.notes[0]!.placement!.role).toBe('tension');
  });
});

describe('Pease, Jazz Composition (2003), list of approach notes (from memory)', () => {
  test('two half steps into a chord tone, after a leap: double chromatic', () => {
    expect(kinds(read('Cmaj7', 'C5 G-D-D# E G'))).toContain('double-chromatic');
  });
});

describe('common practice', () => {
  test('two notes wrap a target', () => {
    expect(detail(read('Cmaj7', 'C4 G F-D# E'), 'enclosure')).toBe('above–below, chromatic');
  });
  test('three wrap it: two above and one below', () => {
    expect(detail(read('Cmaj7', 'C4 G F#-F-D E'), 'enclosure')).toBe('two above–one below, mixed');
  });
  test('three wrap it: two below and one above', () => {
    expect(detail(read('Cmaj7', 'G4 C D-D#-F E'), 'enclosure')).toBe('two below–one above, mixed');
  });
  test('four wrap it', () => {
    expect(detail(read('Cmaj7', 'C4 G F#-D-F-D# E'), 'enclosure')).toContain('two–two');
  });
  test('the diatonic neighbour above may stand for the chromatic one', () => {
    expect(detail(read('Cmaj7', 'E4 C A-F# G'), 'enclosure')).toBe('above–below, mixed');
  });
  test('root, major seventh, root over a minor chord is a chromatic lower neighbour', () => {
    expect(detail(read('Cm7', 'C5 C-B C G'), 'neighbour-tone')).toBe('lower, chromatic');
  });
  test('the flat nine over the V of a minor key is inside', () => {
    const reading = read('Bm7b5 | E7 | Am6', 'B4 D F A | F E G# B | C ~ . .', '  key A minor\n');
    expect(scales(reading)[1]).toBe('mixolydian b9 b13');
    expect(formatFigure(reading.notes[4]!.placement!.figure)).toBe('b9');
    expect(reading.notes[4]!.placement!.role).toBe('tension');
  });
  test('a flat five on the downbeat of a blues line is wanted tension', () => {
    const reading = read('F7 | Bb7 | F7', 'C5-B Bb-Ab F-Eb F ~ | Bb-Ab F-Eb F ~ . | B ~ Bb-Ab F', '  key F major\n');
    expect(reading.notes[11]!.placement!.role).not.toBe('outside');
    expect(warnings(reading)).toBe(0);
  });
  test('a short ii–V–I has ii and V in one bar, a long one a bar each', () => {
    expect(settingOf(read('Dm7 G7 | Cmaj7', 'D4 F G B | C ~ . .', C))).toBe('short-ii-v-i-major');
    expect(settingOf(read('Dm7 | G7 | Cmaj7', 'D4 F A F | G B G B | C ~ . .', C))).toBe('long-ii-v-i-major');
    expect(settingOf(read('Bm7b5 E7b9 | Am6', 'B4 D E G# | A ~ . .', '  key A minor\n'))).toBe('short-ii-v-i-minor');
  });
  test('other settings', () => {
    expect(settingOf(read('Cmaj7 Am7 | Dm7 G7', 'C4 E A C | D F G B', C))).toBe('turnaround');
    expect(settingOf(read('F7 | Bb7 | F7', 'F4 A C A | Bb D F D | F ~ . .', '  key F major\n'))).toBe('blues');
    expect(settingOf(read('Dm7 | Dm7', 'D4 F A F | D ~ . .'))).toBe('minor-vamp');
    expect(settingOf(read('E7 | A7 | D7 | G7', 'E4 G# B E | A C# E A | D F# A D | G ~ . .'))).toBe('cycle');
    expect(settingOf(read('Cmaj7 | Ebmaj7 | Abmaj7', 'C4 E G E | Eb G Bb G | C ~ . .'))).toBe('free');
  });
  test('a line of chord tones alone is the most inside there is', () => {
    const reading = read(
      'Dm7 | G7 | Cmaj7',
      'D4 F A C | B G F D | E G C ~',
      `${C}  claim chord-tones\n  claim diatonic\n  claim no clash\n`,
    );
    expect(checkClaims(reading).map(({ status }) => status)).toEqual(['holds', 'holds', 'holds']);
  });
  test('lines like to arrive on the third of the tonic chord: the seventh of V resolves to it', () => {
    const reading = read('G7 | Cmaj7', 'D5 B G F | E ~ . .', `${C}  claim resolves 7 to 3\n  claim lands 3 at 2.1\n`);
    expect(checkClaims(reading).map(({ status }) => status)).toEqual(['holds', 'holds']);
    expect(kinds(reading)).toContain('guide-tone-resolution');
  });
  test('a triplet embellishment is often the chord’s arpeggio squeezed into one beat', () => {
    expect(kinds(read('Cm7', 'G4 C-Eb-G C G'))).toContain('triplet-arpeggio');
  });
});
