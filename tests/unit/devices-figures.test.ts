/** Sequences, runs, blues lines and the ornaments squeezed into a beat: what is told, and what is not. */
import { describe, expect, test } from 'vitest';
import { devicesOf } from '../../server/src/analysis/devices/read';
import type { DeviceKind } from '../../server/src/analysis/devices/table';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';

function told(kind: DeviceKind, over: string, line: string, rows = ''): string[] {
  const { phrase } = openSnapshot('', 1, `phrase "A"\n${rows}  over ${over}\n  line ${line}\n`).phrases[0]!;
  return devicesOf(readPhrase(phrase, DEFAULT_THEORY))
    .filter((device) => device.kind === kind)
    .map(({ notes, detail }) => `${notes[0]}–${notes[notes.length - 1]} ${detail}`.trim());
}

describe('a sequence', () => {
  test.each([
    ['of four notes that rise and leap back', '| Cmaj7 |', '| C4-D E-G D-E F-A |', ['0–7 4 notes, 2 times, diatonic']],
    [
      'of three, whose model is the one on the stronger beat',
      '| Cmaj7 | % |',
      '| C4-E G-D F-A E-G | B ~ . . |',
      ['0–8 3 notes, 3 times, diatonic'],
    ],
    [
      'of a ii–V a step lower',
      '| Dm7 | G7 | Cm7 | F7 |',
      '| D4-F A-C5 A-F D-F | G-B A-G F ~ | C4-Eb G-Bb G-Eb C-Eb | F-A G-F Eb ~ |',
      ['0–25 13 notes, 2 times, exact'],
    ],
    ['of two stated three times', '| Cmaj7 |', '| C4-E D-F E-G C ~ |', ['0–5 2 notes, 3 times, diatonic']],
    ['with a rest in it', '| Dm7 | Cm7 |', '| . D4-F A F | . C-Eb G Eb |', ['0–7 4 notes, 2 times, exact']],
    ['whose last note is held', '| Cmaj7 |', '| E5-C D-~ D-B C-~ |', ['0–5 3 notes, 2 times, diatonic']],
    [
      'of four statements of three is no sequence of six',
      '| Cmaj7 | % |',
      '| C4-D B3-D E-C E-F | D-F G-E ~ . |',
      ['0–11 3 notes, 4 times, diatonic'],
    ],
  ])('%s', (_, over, line, wanted) => expect(told('sequence', over, line)).toEqual(wanted));

  test.each([
    ['a scale', '| Cmaj7 |', '| C4-D E-F G-A B-C |'],
    ['an arpeggio', '| Dm7 | G7 |', '| D4-F A-C5 ~ . | . . . . |'],
    ['the same again at its own pitch', '| Cmaj7 |', '| C4-E D-E C-E D-E |'],
    ['two notes stated twice', '| Cmaj7 |', '| C4-E D-F ~ . |'],
    ['another rhythm', '| Cmaj7 | % |', '| C4-E-D ~ D F | E ~ . . |'],
    ['another direction', '| Cmaj7 |', '| C4-E D ~ . | D-B3 C ~ . |'],
    ['off the beat', '| Cmaj7 | % |', '| .-C4 G-F A-G B-~ | . . . . |'],
  ])('is not %s', (_, over, line) => expect(told('sequence', over, line)).toEqual([]));
});

describe('in six-eight', () => {
  const rows = '  meter 6/8\n';
  test('three eighths are no triplet, and no mordent', () => {
    expect(told('triplet-arpeggio', '| Cmaj7 |', '| C4-E-G E-G-C |', rows)).toEqual([]);
    expect(told('mordent', '| Cmaj7 |', '| E4-F-E G-~-~ |', rows)).toEqual([]);
  });
  test('what fills one eighth is', () => {
    expect(told('triplet-arpeggio', '| Cmaj7 |', '| C4-E-G-C-~-~-~-~-~ G-~-~ |', rows)).toEqual(['0–2 rising']);
    expect(told('mordent', '| Cmaj7 |', '| E4-F-E-~-~-~ G-~-~ |', rows)).toEqual(['0–2 upper']);
  });
});

describe('a passing tone', () => {
  test('passes between chord tones', () => expect(told('passing-tone', '| Cmaj7 |', '| C4-D E G ~ |')).toHaveLength(1));
  test.each([
    ['struck again', '| Cmaj7 |', '| C4 D-D E ~ |'],
    ['between repeated notes', '| Cmaj7 |', '| C4-C D E-E ~ |'],
    ['within a scale run', '| Cmaj7 |', '| C4-D E-F G ~ |'],
    ['within a run of half steps', '| C7 |', '| C5 G-F# F-E C |'],
  ])('is not one %s', (_, over, line) => expect(told('passing-tone', over, line)).toEqual([]));
});

describe('a blues line', () => {
  const C = '  key C major\n';
  test.each([
    ['with the flat five', '| C7 |', '| C5-Bb G-Gb F-Eb C ~ |', C, ['0–6 C minor blues']],
    ['with the blue third over a major third', '| C7 |', '| C5-Bb G-F Eb-C Bb3 ~ |', C, ['0–6 C minor blues']],
    ['on through the changes', '| C7 | F7 |', '| . . Eb4-F Gb-G | Bb-G F-Eb C ~ |', C, ['0–8 C minor blues']],
    ['of the major blues', '| C7 |', '| C5-A G-E Eb-D C ~ |', C, ['0–6 C major blues']],
  ])('%s', (_, over, line, rows, wanted) => expect(told('blues-line', over, line, rows)).toEqual(wanted));
  test.each([
    ['the tonic minor pentatonic over its own minor chord', '| Cm7 |', '| C5-Bb G-F Eb-C Bb3 ~ |', '  key C minor\n'],
    ['the blues scale of another root', '| F7 | C7 |', '| F4-Ab Bb-B C-Eb F ~ | E ~ . . |', C],
    ['the scale of a minor key over its relative major', '| Ebmaj7 | Cm7 |', '| Eb5-C Bb4-G F-Eb C ~ | C ~ . . |', '  key C minor\n'],
    ['four notes', '| C7 |', '| Bb4-G Gb-F A ~ |', C],
    ['the chords of a backdoor cadence', '| Gm7 C7 | Dmaj7 |', '| Bb4-D F-A G-F E-G | F# ~ ~ . |', '  key D major\n'],
  ])('is not %s', (_, over, line, rows) => expect(told('blues-line', over, line, rows)).toEqual([]));
  test('is told instead of the pentatonic it holds', () =>
    expect(told('pentatonic-line', '| C7 |', '| C5-Bb G-F Eb-C Bb3 ~ |', C)).toEqual([]));
});

test('a scale run counts pitches, not spellings', () => {
  expect(told('scale-run', '| C7 |', '| C4-D E-F G-A A# ~ |')).toEqual(['0–6 rising']);
  expect(told('scale-run', '| Cmaj7 |', '| C4-C D-D E-E F-F |')).toEqual([]);
  // On a note of two beats before a shorter one it stops; half notes are all held.
  expect(told('scale-run', '| C7 | Fm |', '| . Db5-C ~ Bb | Ab ~ G-F Eb |')).toEqual([]);
  expect(told('scale-run', '| Cmaj7 | % | % |', '| C4 ~ D ~ | E ~ F ~ | G ~ ~ . |')).toEqual(['0–4 rising']);
  // Two half steps in a row, each in the scale of its own chord.
  expect(told('scale-run', '| C7 | Fm7 |', '| E4-G C5 Bb-A ~ | Ab-G F-Eb C ~ |')).toEqual([]);
});
